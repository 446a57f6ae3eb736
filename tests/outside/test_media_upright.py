"""Photos of all eight orientations come out upright, judged by pictures and a program of others.

Source: EXIF 2.32 (CIPA DC-008), tag 0x0112 Orientation; 18 example photos which all show the same
upright picture, github.com/recurser/exif-orientation-examples (MIT); FFmpeg's own turning.
"""

import subprocess
from pathlib import Path

import pytest
from PIL import Image, ImageChops, ImageStat

from evidence.media import Cleaned, Role, clean
from tests.evidence.media.made import shared_media

NAMES = [f"{shape}_{number}" for shape in ("Landscape", "Portrait") for number in range(9)]
# Mean difference of 255 that JPEG's own loss explains. The wrong turn of these pictures differs by
# more than 40, the wrong mirror by more than 20.
LOSS = 6.0


def difference(one: Image.Image, other: Image.Image) -> float:
    """Give the mean absolute difference of two pictures, 0 to 255, at the size of the second."""
    size = other.size
    pair = one.convert("RGB").resize(size), other.convert("RGB")
    return sum(ImageStat.Stat(ImageChops.difference(*pair)).mean) / 3


def cleaned(name: str, out: Path) -> Cleaned:
    """Clean one of the example photos."""
    result = clean(shared_media(f"orientation/{name}.jpg"), out)
    assert isinstance(result, Cleaned)
    return result


@pytest.mark.parametrize("name", NAMES)
def test_every_orientation_shows_the_same_upright_picture(name, tmp_path):
    plain = f"{name.split('_')[0]}_1"
    with Image.open(shared_media(f"orientation/{plain}.jpg")) as upright:
        result = cleaned(name, tmp_path)

        for role in (Role.DISPLAY, Role.THUMB):
            with Image.open(result.output(role).path) as shown:
                assert (shown.width > shown.height) == (upright.width > upright.height)
                assert difference(upright, shown) < LOSS


@pytest.mark.parametrize("name", NAMES)
def test_every_orientation_is_turned_as_another_program_turns_it(name, tmp_path):
    turned = tmp_path / "turned.png"
    source = shared_media(f"orientation/{name}.jpg")
    subprocess.run(
        ["ffmpeg", "-v", "error", "-i", source, "-frames:v", "1", turned], check=True, timeout=30
    )

    result = cleaned(name, tmp_path)

    with Image.open(turned) as theirs, Image.open(result.output(Role.DISPLAY).path) as ours:
        assert difference(theirs, ours) < LOSS


def test_the_comparison_would_notice_a_picture_turned_or_mirrored():
    with Image.open(shared_media("orientation/Landscape_1.jpg")) as upright:
        small = upright.resize((450, 300))
    others = [small.transpose(step) for step in Image.Transpose]

    assert all(difference(wrong, small) > 3 * LOSS for wrong in others)
