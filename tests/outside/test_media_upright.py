"""Photos of all eight orientations come out upright, judged by pictures and a program of others.

Source: EXIF 2.32 (CIPA DC-008), tag 0x0112 Orientation; 18 example photos which all show the same
upright picture, github.com/recurser/exif-orientation-examples (MIT); FFmpeg's own turning.
"""

import subprocess
from io import BytesIO

import pytest
from PIL import Image

from evidence.media import Cleaned, Role, clean
from tests.evidence.media.made import difference, shared_media

NAMES = [f"{shape}_{number}" for shape in ("Landscape", "Portrait") for number in range(9)]
# Mean difference of 255 that JPEG's own loss explains. The wrong turn of these pictures differs by
# more than 40, the wrong mirror by more than 20.
LOSS = 6.0


@pytest.fixture(scope="module")
def cleaned(tmp_path_factory) -> dict[str, Cleaned]:
    """Clean all 18 example photos."""
    results = {}
    for name in NAMES:
        result = clean(shared_media(f"orientation/{name}.jpg"), tmp_path_factory.mktemp(name))
        assert isinstance(result, Cleaned)
        results[name] = result
    return results


@pytest.mark.parametrize("name", NAMES)
def test_every_orientation_shows_the_same_upright_picture(name, cleaned):
    plain = f"{name.split('_')[0]}_1"
    with Image.open(shared_media(f"orientation/{plain}.jpg")) as upright:
        for role in (Role.DISPLAY, Role.THUMB):
            with Image.open(cleaned[name].output(role).path) as shown:
                assert (shown.width > shown.height) == (upright.width > upright.height)
                assert difference(upright, shown) < LOSS


@pytest.mark.parametrize("name", NAMES)
def test_every_orientation_is_turned_as_another_program_turns_it(name, cleaned):
    command = ["ffmpeg", "-v", "error", "-i", shared_media(f"orientation/{name}.jpg")]
    command += ["-frames:v", "1", "-vf", "scale=450:-1", "-c:v", "png", "-f", "image2pipe", "-"]
    theirs = subprocess.run(command, check=True, capture_output=True, timeout=30).stdout

    with Image.open(cleaned[name].output(Role.DISPLAY).path) as ours:
        assert difference(ours, Image.open(BytesIO(theirs))) < LOSS


def test_the_comparison_would_notice_a_picture_turned_or_mirrored():
    with Image.open(shared_media("orientation/Landscape_1.jpg")) as upright:
        small = upright.resize((450, 300))
    others = [small.transpose(step) for step in Image.Transpose]

    assert all(difference(wrong, small) > 3 * LOSS for wrong in others)
