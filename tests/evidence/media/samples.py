"""Files as phones write them, with a place and a maker in them, made by general libraries.

The readers that judge them and what becomes of them are others: ExifRead, MediaInfo, mutagen.
"""

import struct
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pillow_heif
from PIL import Image, ImageCms
from PIL.ExifTags import IFD, Base

from tests.evidence.media import made

MAKER, MODEL, PERSON = "Invented Maker", "Invented Model 3", "Invented Name"
PLACE = "+12.5000-034.2500/"
# Source: EXIF 2.32 (CIPA DC-008), tag 0x0112 Orientation: the side of the upright picture that
# row 0 of the stored one is, and the side that its column 0 is. 0 is none of them: as it is.
SIDES = {
    0: ("top", "left"),
    1: ("top", "left"),
    2: ("top", "right"),
    3: ("bottom", "right"),
    4: ("bottom", "left"),
    5: ("left", "top"),
    6: ("right", "top"),
    7: ("right", "bottom"),
    8: ("left", "bottom"),
}
XMP = f"""<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF
 xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#"><rdf:Description rdf:about=""
 xmlns:dc="http://purl.org/dc/elements/1.1/" dc:creator="{PERSON}"/></rdf:RDF></x:xmpmeta>"""


def stored(upright: Image.Image, orientation: int) -> Image.Image:
    """Return the pixels of *upright* as a camera held otherwise stores them."""
    rows, columns = SIDES[orientation]
    pixels = np.asarray(upright)
    if rows in ("left", "right"):
        pixels = pixels.swapaxes(0, 1)
    if rows in ("bottom", "right"):
        pixels = pixels[::-1]
    if columns in ("bottom", "right"):
        pixels = pixels[:, ::-1]
    return Image.fromarray(np.ascontiguousarray(pixels))


def held(path: Path, upright: Image.Image, orientation: int) -> Path:
    """Write *upright* as a JPEG of a camera held so that it is stored in *orientation*, 0 to 8."""
    exif = Image.Exif()
    exif[Base.Orientation] = orientation
    stored(upright, orientation).save(path, "JPEG", exif=exif, quality=92)
    return path


def telling_exif() -> Image.Exif:
    """Return EXIF that tells a place, a device, a person and a time."""
    exif = Image.Exif()
    exif.update(
        {Base.Make: MAKER, Base.Model: MODEL, Base.Software: "Invented 1.0", Base.Artist: PERSON}
    )
    exif.update({Base.ImageDescription: f"By {PERSON}", Base.Copyright: PERSON})
    exif[Base.DateTime] = "2026:11:23 09:30:00"
    exif.get_ifd(IFD.GPSInfo).update({1: "N", 2: (12.0, 30.0, 0.0), 3: "W", 4: (34.0, 15.0, 0.0)})
    return exif


def photo(path: Path, *, size: tuple[int, int] = (800, 600)) -> Path:
    """Write a JPEG that knows where it was taken, with what and by whom."""
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    more = {"icc_profile": profile, "xmp": XMP.encode(), "comment": PERSON.encode()}
    made.quarters(*size).save(path, "JPEG", exif=telling_exif(), quality=92, **more)
    return path


def wide_colours() -> bytes:
    """Return a profile of wider colours than sRGB's, as phones put it into their photos.

    Source: the primaries of SMPTE RP 431-2 (P3) at D65, adapted to D50, from memory.
    """
    profile = bytearray(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    wide = {b"rXYZ": (0.5151, 0.2412, -0.0011), b"gXYZ": (0.2920, 0.6922, 0.0419)}
    for name, primary in {**wide, b"bXYZ": (0.1571, 0.0666, 0.7841)}.items():
        entry = profile.index(name) + 4
        at = int.from_bytes(profile[entry : entry + 4]) + 8
        profile[at : at + 12] = struct.pack(">3i", *(round(each * 65536) for each in primary))
    # Under its old name it would be taken for what it was.
    return bytes(profile).replace("sRGB".encode("utf-16-be"), "Wide".encode("utf-16-be"))


def heic(path: Path, *, size: tuple[int, int] = (800, 600)) -> Path:
    """Write a HEIC that knows where it was taken, with what and by whom."""
    written = pillow_heif.from_pillow(made.quarters(*size))
    written.save(path, exif=telling_exif().tobytes(), xmp=XMP.encode(), quality=80)
    return path


def clip(path: Path, *, container: str = "mov", seconds: float = 0.6) -> Path:
    """Film a clip held sideways, with a place in its user data (ISO 6709), a maker and a person."""
    told = {"location": PLACE, "make": MAKER, "model": MODEL, "artist": PERSON, "title": PERSON}
    told["creation_time"] = "2026-11-23T09:30:00Z"
    return made.clip(path, container=container, seconds=seconds, metadata=told, turned=-90)


KNOWING_A_PLACE: dict[str, Callable[[Path], Path]] = {
    "photo.jpg": photo,
    "photo.heic": heic,
    "clip.mov": clip,
    "clip.3gp": lambda path: clip(path, container="3gp"),
}
# The same of other people's making, in the folder that SHARED_MEDIA names.
OTHERS_KNOWING_A_PLACE = (
    *("place/DSCN0010.jpg", "place/DSCN0040.jpg", "place/IMG_5195.HEIC", "place/with-gps.mov"),
)


def knowing_a_place(name: str, folder: Path) -> Path:
    """Return the file of that *name*: one of ours, made in *folder*, or one of other people's."""
    if name in OTHERS_KNOWING_A_PLACE:
        return made.shared_media(name)
    path = folder / name
    return path if path.exists() else KNOWING_A_PLACE[name](path)
