"""Photos of all eight orientations come out upright, judged by pictures and a program of others.

Source: EXIF 2.32 (CIPA DC-008), tag 0x0112 Orientation: photos stored by its table, and, where they
are given, 18 photos of other people's making which all show the same upright picture,
github.com/recurser/exif-orientation-examples (MIT); FFmpeg's own turning where it is.
"""

import subprocess
from collections.abc import Callable
from functools import cache
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image

from evidence.media import Cleaned, Role, clean
from tests.evidence.media import readers, samples
from tests.evidence.media.made import difference, quarters, shared_media
from tests.programs import program

SIZES = {"Landscape": (450, 300), "Portrait": (300, 450)}
OURS = [f"{shape}_{number}" for shape in SIZES for number in range(9)]
THEIRS = [f"orientation/{name}.jpg" for name in OURS]
# Mean difference of 255 that JPEG's own loss explains. The wrong turn of these pictures differs by
# more than 40, the wrong mirror by more than 20.
LOSS = 6.0
# Source: EXIF 2.32, the same tag, in ExifRead's words for a value and its own for none.
READ = {
    1: "Horizontal (normal)",
    2: "Mirrored horizontal",
    3: "Rotated 180",
    4: "Mirrored vertical",
    5: "Mirrored horizontal then rotated 90 CCW",
    6: "Rotated 90 CW",
    7: "Mirrored horizontal then rotated 90 CW",
    8: "Rotated 90 CCW",
}


def upright(name: str) -> Image.Image:
    """Return the picture that the photo *name* shows when it is held upright."""
    if name in OURS:
        return quarters(*SIZES[name.split("_")[0]])
    return Image.open(shared_media(f"{name.split('_')[0]}_1.jpg"))


@pytest.fixture(scope="module")
def photo(tmp_path_factory) -> Callable[[str], Path]:
    """Return a function from a name to a photo: made here, or by other people."""
    folder = tmp_path_factory.mktemp("held")

    def find(name: str) -> Path:
        if name in THEIRS:
            return shared_media(name)
        return samples.held(folder / f"{name}.jpg", upright(name), int(name[-1]))

    return find


@pytest.fixture(scope="module")
def cleaned(photo, tmp_path_factory) -> Callable[[str], Cleaned]:
    """Return a function that cleans the photo of a name, once."""

    @cache
    def clean_once(name: str) -> Cleaned:
        result = clean(photo(name), tmp_path_factory.mktemp("clean"))
        assert isinstance(result, Cleaned), result
        return result

    return clean_once


@pytest.mark.parametrize("name", OURS + THEIRS)
def test_every_orientation_shows_the_same_upright_picture(name, cleaned):
    expected = upright(name)
    for role in (Role.DISPLAY, Role.THUMB):
        with Image.open(cleaned(name).output(role).path) as shown:
            assert (shown.width > shown.height) == (expected.width > expected.height)
            assert difference(expected, shown) < LOSS


@pytest.mark.parametrize("name", OURS + THEIRS)
def test_every_orientation_is_turned_as_another_program_turns_it(name, photo, cleaned):
    command = [program("ffmpeg"), "-v", "error", "-i", photo(name)]
    command += ["-frames:v", "1", "-vf", "scale=450:-1", "-c:v", "png", "-f", "image2pipe", "-"]
    theirs = subprocess.run(command, check=True, capture_output=True, timeout=60).stdout

    with Image.open(cleaned(name).output(Role.DISPLAY).path) as ours:
        assert difference(ours, Image.open(BytesIO(theirs))) < LOSS


@pytest.mark.parametrize("name", [name for name in OURS if not name.endswith("0")])
def test_the_photos_made_here_say_how_they_are_held(name, photo):
    assert readers.exif_of(photo(name))["Image Orientation"] == READ[int(name[-1])]


@pytest.mark.parametrize("picture", [OURS[0], THEIRS[0]])
def test_the_comparison_would_notice_a_picture_turned_or_mirrored(picture):
    small = upright(picture).resize((450, 300))
    others = [small.transpose(step) for step in Image.Transpose]

    assert all(difference(wrong, small) > 3 * LOSS for wrong in others)
