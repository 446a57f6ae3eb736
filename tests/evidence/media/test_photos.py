"""Every kind of photo becomes an upright, plain JPEG and a thumbnail."""

from dataclasses import replace
from io import BytesIO

import pillow_heif
import pytest
from PIL import Image, PngImagePlugin

from evidence.media import LIMITS, Cleaned, Kind, RefusalReason, Refused, Role, clean, rotate
from tests.evidence.media import made
from tests.evidence.media.made import UPRIGHT, corners
from tests.evidence.media.samples import wide_colours


def cleaned(path, out, **options):
    """Clean *path* and give the result with its display picture."""
    result = clean(path, out, **options)
    assert isinstance(result, Cleaned), result
    with Image.open(result.output(Role.DISPLAY).path) as shown:
        shown.load()
    return result, shown


@pytest.mark.parametrize("written", ["JPEG", "PNG", "WEBP", "AVIF", "GIF", "HEIF"])
def test_every_kind_of_photo_becomes_the_same_plain_jpeg(written, tmp_path):
    pillow_heif.register_heif_opener()
    source = tmp_path / "photo"
    made.quarters(400, 300).save(source, written)

    result, shown = cleaned(source, tmp_path / "out")

    assert result.kind is Kind.PHOTO
    assert (shown.format, shown.mode, shown.size) == ("JPEG", "RGB", (400, 300))
    assert corners(shown) == UPRIGHT
    assert [output.path.name for output in result.outputs] == ["display.jpg", "thumb.jpg"]


def test_a_large_photo_is_shown_at_1600_pixels_and_a_small_one_as_it_is(tmp_path):
    made.quarters(3000, 2000).save(tmp_path / "large.jpg")
    made.quarters(90, 60).save(tmp_path / "small.jpg")

    large, _ = cleaned(tmp_path / "large.jpg", tmp_path / "a")
    small, _ = cleaned(tmp_path / "small.jpg", tmp_path / "b")

    assert [(one.width, one.height) for one in large.outputs] == [(1600, 1067), (320, 213)]
    assert [(one.width, one.height) for one in small.outputs] == [(90, 60), (90, 60)]


@pytest.mark.parametrize("mode", ["1", "L", "LA", "P", "RGBA", "CMYK", "I;16", "YCbCr"])
def test_every_way_of_storing_pixels_keeps_its_light_and_dark(mode, tmp_path):
    picture = Image.new("L", (60, 40), 255)
    picture.paste(0, (0, 0, 30, 40))
    if mode == "I;16":
        picture = picture.point(lambda value: value * 257, "I").convert("I;16")
    else:
        picture = picture.convert(mode)
    picture.save(tmp_path / "photo", "JPEG" if mode in {"CMYK", "YCbCr"} else "PNG")

    _, shown = cleaned(tmp_path / "photo", tmp_path / "out")

    assert max(shown.getpixel((10, 20))) < 16
    assert min(shown.getpixel((50, 20))) > 239


def test_what_is_transparent_is_laid_on_white_paper(tmp_path):
    drawing = Image.new("RGBA", (60, 40), (0, 0, 0, 0))
    drawing.paste((255, 0, 0, 255), (0, 0, 30, 40))
    drawing.save(tmp_path / "drawing.png")

    _, shown = cleaned(tmp_path / "drawing.png", tmp_path / "out")

    assert made.colour_name(shown.getpixel((10, 20))) == "red"
    assert made.colour_name(shown.getpixel((50, 20))) == "white"


def test_colours_are_converted_and_their_profile_is_dropped(tmp_path):
    source = tmp_path / "wide.png"
    Image.new("RGB", (40, 40), (200, 60, 60)).save(source, icc_profile=wide_colours())

    _, shown = cleaned(source, tmp_path / "out")

    assert "icc_profile" not in shown.info
    red, green, _ = shown.getpixel((20, 20))
    assert red > 208
    assert green < 56


def test_a_broken_colour_profile_does_not_cost_the_photo(tmp_path):
    made.quarters(40, 40).save(tmp_path / "photo.jpg", icc_profile=b"not a profile" * 20)

    _, shown = cleaned(tmp_path / "photo.jpg", tmp_path / "out")

    assert corners(shown) == UPRIGHT


def test_comments_and_text_are_not_carried_over(tmp_path):
    text = PngImagePlugin.PngInfo()
    text.add_text("Author", "Invented Name")
    made.quarters(40, 30).save(tmp_path / "a.png", pnginfo=text)
    made.quarters(40, 30).save(tmp_path / "b.jpg", comment=b"Invented Name")

    for name in ("a.png", "b.jpg"):
        result, _ = cleaned(tmp_path / name, tmp_path / name[0])
        assert all(b"Invented" not in output.path.read_bytes() for output in result.outputs)


@pytest.mark.parametrize(
    ("turn", "expected"),
    [
        (90, ("blue", "red", "white", "green")),
        (180, ("white", "blue", "green", "red")),
        (270, ("green", "white", "red", "blue")),
    ],
)
def test_a_family_can_turn_a_photo_clockwise(turn, expected, tmp_path):
    made.quarters(200, 100).save(tmp_path / "photo.jpg", quality=95)
    first, _ = cleaned(tmp_path / "photo.jpg", tmp_path / "out")

    result = rotate(first.output(Role.DISPLAY).path, tmp_path / "out", turn)

    assert isinstance(result, Cleaned)
    with Image.open(result.output(Role.DISPLAY).path) as shown:
        assert corners(shown) == expected
        assert shown.size == ((100, 200) if turn != 180 else (200, 100))


def test_no_other_turn_is_taken(tmp_path):
    with pytest.raises(ValueError, match="turn must be one of"):
        clean(tmp_path / "photo.jpg", tmp_path, turn=45)


def test_the_same_file_gives_the_same_names_and_bytes(tmp_path):
    made.quarters(600, 400).save(tmp_path / "photo.jpg")

    first, _ = cleaned(tmp_path / "photo.jpg", tmp_path / "out")
    again, _ = cleaned(tmp_path / "photo.jpg", tmp_path / "out")

    assert first == again
    assert len(list((tmp_path / "out").iterdir())) == 2


def test_only_the_first_picture_of_a_moving_gif_is_read(tmp_path):
    frames = [made.quarters(60, 40), *(Image.new("RGB", (60, 40), shade) for shade in range(200))]
    frames[0].save(tmp_path / "moving.gif", save_all=True, append_images=frames[1:])

    _, shown = cleaned(tmp_path / "moving.gif", tmp_path / "out")

    assert corners(shown) == UPRIGHT


@pytest.mark.parametrize(
    ("size", "reason"),
    [
        ((400, 300), RefusalReason.TOO_MANY_PIXELS),
        ((1200, 8), RefusalReason.TOO_MANY_PIXELS),
        ((300, 2), RefusalReason.TOO_NARROW),
    ],
)
def test_a_photo_too_large_or_too_thin_is_refused(size, reason, tmp_path):
    Image.new("RGB", size).save(tmp_path / "photo.png")
    small = replace(LIMITS, pixels=100_000, side=1000)

    result = clean(tmp_path / "photo.png", tmp_path / "out", limits=small)

    assert isinstance(result, Refused)
    assert result.reason is reason
    assert list((tmp_path / "out").iterdir()) == []


def test_a_photo_is_read_only(tmp_path):
    source = tmp_path / "photo.jpg"
    made.quarters(60, 40).save(source)
    before = source.read_bytes()
    source.chmod(0o400)

    cleaned(source, tmp_path / "out")

    assert source.read_bytes() == before


def test_an_orientation_in_a_png_is_followed(tmp_path):
    exif = Image.Exif()
    exif[0x0112] = 6
    turned = made.quarters(60, 40).transpose(Image.Transpose.ROTATE_90)
    turned.save(tmp_path / "photo.png", exif=exif)

    _, shown = cleaned(tmp_path / "photo.png", tmp_path / "out")

    assert corners(shown) == UPRIGHT


def test_a_photo_written_in_scans_is_read(tmp_path):
    buffer = BytesIO()
    made.quarters(600, 400).save(buffer, "JPEG", progressive=True)
    (tmp_path / "photo.jpg").write_bytes(buffer.getvalue())

    _, shown = cleaned(tmp_path / "photo.jpg", tmp_path / "out")

    assert corners(shown) == UPRIGHT
