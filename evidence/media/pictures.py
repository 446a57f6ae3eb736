"""Turn a photo of any kind into an upright display picture and a thumbnail without metadata."""

import mmap
import struct
from importlib import import_module
from io import BytesIO
from typing import BinaryIO

from PIL import Image, UnidentifiedImageError

from evidence.media.draft import Draft, DraftFile, RefusalError
from evidence.media.limits import Limits
from evidence.media.outcome import Kind, RefusalReason, Role, SourceFormat

QUALITY = 80
THUMB_QUALITY = 75
ORIENTATION = 0x0112
# Half the time of Lanczos, which was the larger part of the work, for a difference nobody sees.
FILTER = Image.Resampling.HAMMING
PAPER = (255, 255, 255)  # what shows through a transparent drawing

PILLOW_FORMATS = {
    SourceFormat.JPEG: "JPEG",
    SourceFormat.PNG: "PNG",
    SourceFormat.WEBP: "WEBP",
    SourceFormat.HEIF: "HEIF",
    SourceFormat.AVIF: "AVIF",
    SourceFormat.GIF: "GIF",
}

PLUGINS = {
    SourceFormat.JPEG: "JpegImagePlugin",
    SourceFormat.PNG: "PngImagePlugin",
    SourceFormat.WEBP: "WebPImagePlugin",
    SourceFormat.AVIF: "AvifImagePlugin",
    SourceFormat.GIF: "GifImagePlugin",
}

# What undoes each EXIF orientation (EXIF 2.32, 4.6.4 A, tag 0x0112).
ORIENTATIONS = {
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_270,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_90,
}

CLOCKWISE = {
    90: Image.Transpose.ROTATE_270,
    180: Image.Transpose.ROTATE_180,
    270: Image.Transpose.ROTATE_90,
}


def load(found: SourceFormat, source: BinaryIO) -> None:
    """Import all that decoding *source* may take: behind the walls nothing can be imported."""
    # A JPEG may hold several pictures, and describes itself in the manner of a TIFF.
    names = {"JpegImagePlugin", "MpoImagePlugin", "ImagePalette"}
    if found is SourceFormat.HEIF:
        import pillow_heif  # 20 ms that no other kind of photo should pay

        pillow_heif.register_heif_opener(thumbnails=False)
    else:
        names.add(PLUGINS[found])
    if may_have_profile(found, source):
        names.add("ImageCms")
    for name in sorted(names):
        import_module(f"PIL.{name}")


def may_have_profile(found: SourceFormat, source: BinaryIO) -> bool:
    """Tell whether colours may be other than sRGB: 8 ms that most photos need not pay.

    Bytes are looked for and nothing is decoded (ICC.1:2022, B.4: how a JPEG names its profile).
    """
    if found is not SourceFormat.JPEG:
        return True
    with mmap.mmap(source.fileno(), 0, prot=mmap.PROT_READ) as content:
        return content.find(b"ICC_PROFILE") >= 0


def clean_picture(source: BinaryIO, found: SourceFormat, turn: int, limits: Limits) -> Draft:
    """Write display.jpg and thumb.jpg of *source* into the working directory.

    turn: degrees clockwise on top of what the camera recorded: 0, 90, 180 or 270.
    Raises RefusalError.
    """
    picture = open_picture(source, found)
    check_size(picture.width, picture.height, limits.pixels, limits)
    small = shrink(picture, limits.display_side)
    shown = upright(small, orientation_of(picture), turn)
    files = save_pair(shown, Role.DISPLAY, "display", limits)
    return Draft(Kind.PHOTO, files, shown.width, shown.height)


def open_picture(source: BinaryIO, found: SourceFormat) -> Image.Image:
    """Read the header of *source* as *found* and as nothing else. Raises RefusalError."""
    Image.MAX_IMAGE_PIXELS = None  # our own limit is checked before any pixel is decoded
    try:
        return Image.open(source, formats=(PILLOW_FORMATS[found],))
    except UnidentifiedImageError as error:
        raise RefusalError(RefusalReason.UNREADABLE, f"no {found} header") from error


def check_size(width: int, height: int, pixels: int, limits: Limits) -> None:
    """Refuse a picture that is too large or too thin, from what its header declares."""
    if width < 1 or height < 1:
        raise RefusalError(RefusalReason.UNREADABLE, f"{width}x{height} pixels")
    if width * height > pixels or max(width, height) > limits.side:
        raise RefusalError(RefusalReason.TOO_MANY_PIXELS, f"{width}x{height} pixels")
    if max(width, height) > limits.aspect * min(width, height):
        raise RefusalError(RefusalReason.TOO_NARROW, f"{width}x{height} pixels")


def shrink(picture: Image.Image, side: int) -> Image.Image:
    """Decode *picture* to sRGB, at most *side* pixels along its longest side, never enlarged."""
    size = fit(picture.size, side)
    # A box of the picture's own shape lets the JPEG decoder halve as it decodes; a square one not.
    picture.draft("RGB", size)
    picture.load()
    small = plain(picture)
    if small.size != size:
        small = small.resize(size, FILTER, reducing_gap=2.0)
    return to_srgb(on_paper(small), picture.info.get("icc_profile"))


def fit(size: tuple[int, int], side: int) -> tuple[int, int]:
    """Scale *size* down to *side* along its longest side; neither side falls below 1."""
    scale = min(1.0, side / max(size))
    return max(1, round(size[0] * scale)), max(1, round(size[1] * scale))


def plain(picture: Image.Image) -> Image.Image:
    """Bring any pixel mode to L, RGB, RGBA or CMYK."""
    if picture.mode in {"L", "RGB", "RGBA", "CMYK"} and "transparency" not in picture.info:
        return picture
    if picture.mode.startswith("I"):  # 16 bits a pixel
        return picture.point(lambda value: value * (1 / 256)).convert("L")
    return picture.convert("RGBA" if picture.has_transparency_data else "RGB")


def on_paper(picture: Image.Image) -> Image.Image:
    """Lay what is transparent on white."""
    if picture.mode != "RGBA":
        return picture
    paper = Image.new("RGB", picture.size, PAPER)
    paper.paste(picture, mask=picture.getchannel("A"))
    return paper


def to_srgb(picture: Image.Image, profile: bytes | None) -> Image.Image:
    """Convert colours by the embedded *profile*; a broken profile is left out."""
    if profile and picture.mode in {"RGB", "CMYK"}:
        from PIL import ImageCms  # imported by `load` where there may be a profile

        try:
            source = ImageCms.ImageCmsProfile(BytesIO(profile))
            if not ImageCms.getProfileDescription(source).startswith("sRGB"):
                srgb = ImageCms.createProfile("sRGB")
                changed = ImageCms.profileToProfile(picture, source, srgb, outputMode="RGB")
                return changed if changed is not None else picture
        except (ImageCms.PyCMSError, OSError, TypeError):
            return picture.convert("RGB")
    return picture if picture.mode == "RGB" else picture.convert("RGB")


def upright(picture: Image.Image, orientation: int, turn: int) -> Image.Image:
    """Apply EXIF *orientation* (1 to 8, others count as 1), then *turn* degrees clockwise."""
    for step in (ORIENTATIONS.get(orientation), CLOCKWISE.get(turn)):
        if step is not None:
            picture = picture.transpose(step)
    return picture


def orientation_of(picture: Image.Image) -> int:
    """Return the orientation the camera wrote down, 1 when there is none that can be read."""
    try:
        return int(picture.getexif().get(ORIENTATION, 1))
    except (ValueError, TypeError, SyntaxError, OSError, struct.error):
        return 1


def save_pair(
    picture: Image.Image, role: Role, name: str, limits: Limits
) -> tuple[DraftFile, DraftFile]:
    """Write *picture* as name.jpg and its thumbnail as thumb.jpg."""
    thumb = save_thumb(picture, limits)
    return save_jpeg(picture, role, f"{name}.jpg", QUALITY), thumb


def save_thumb(picture: Image.Image, limits: Limits) -> DraftFile:
    """Write thumb.jpg of *picture*."""
    size = fit(picture.size, limits.thumb_side)
    thumb = picture.resize(size, FILTER, reducing_gap=2.0)
    return save_jpeg(thumb, Role.THUMB, "thumb.jpg", THUMB_QUALITY)


def save_jpeg(picture: Image.Image, role: Role, name: str, quality: int) -> DraftFile:
    """Write *picture* as a JPEG that carries pixels and nothing else."""
    picture.info.clear()  # Pillow would write a comment found here back into the file
    picture.save(name, "JPEG", quality=quality)
    return DraftFile(role, name, picture.width, picture.height)
