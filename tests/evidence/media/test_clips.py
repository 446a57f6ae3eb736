"""Every kind of clip becomes a small upright MP4 with a poster and a thumbnail."""

from dataclasses import replace
from pathlib import Path

import av
import pytest
from PIL import Image

from evidence.media import LIMITS, Cleaned, Kind, RefusalReason, Refused, Role, clean, rotate
from tests.evidence.media import made
from tests.evidence.media.made import UPRIGHT, corners, first_picture
from tests.evidence.media.samples import knowing_a_place


def cleaned(path: Path, out: Path, **options) -> Cleaned:
    """Clean *path*, which must succeed."""
    result = clean(path, out, **options)
    assert isinstance(result, Cleaned), result
    return result


def times_of(result: Cleaned) -> list[float]:
    """Return the second at which each picture of the clean clip is shown."""
    with av.open(result.output(Role.CLIP).path) as kept:
        return sorted(frame.time for frame in kept.decode(video=0))


@pytest.mark.parametrize(
    ("container", "video", "sound"),
    [
        ("mp4", "libx264", "aac"),
        ("mov", "libx265", "aac"),
        ("mov", "libx264", "pcm_s16le"),
        ("3gp", "libx264", "aac"),
        ("webm", "libvpx", "libopus"),
        ("webm", "libvpx-vp9", "libopus"),
        ("matroska", "libx264", "libopus"),
    ],
)
def test_every_kind_of_clip_becomes_the_same_kind(container, video, sound, tmp_path):
    source = made.clip(tmp_path / "clip", container=container, video=video, sound=sound)

    result = cleaned(source, tmp_path / "out")

    assert result.kind is Kind.CLIP
    assert result.seconds == pytest.approx(1.0, abs=0.1)
    names = ["clip.mp4", "poster.jpg", "thumb.jpg"]
    assert [output.path.name for output in result.outputs] == names
    with av.open(result.output(Role.CLIP).path) as kept:
        assert kept.streams.video[0].codec_context.name == "h264"
        assert kept.streams.video[0].codec_context.pix_fmt == "yuv420p"
        assert kept.streams.audio[0].codec_context.name == "aac"
    assert corners(first_picture(result.output(Role.CLIP).path)) == UPRIGHT
    with Image.open(result.output(Role.POSTER).path) as poster:
        assert corners(poster) == UPRIGHT


@pytest.mark.parametrize("name", ["clip.mov", "clip.3gp", "place/with-gps.mov"])
def test_a_clip_held_sideways_is_shown_upright(name, tmp_path):
    clip = knowing_a_place(name, tmp_path)
    result = cleaned(clip, tmp_path / "out")

    with av.open(clip) as source:
        recorded = next(source.decode(video=0))
        expected = recorded.to_image().rotate(recorded.rotation, expand=True)
    assert recorded.rotation != 0
    shown = first_picture(result.output(Role.CLIP).path)
    assert shown.size == expected.size
    assert made.difference(expected, shown) < 6
    assert made.difference(expected.rotate(180), shown) > 18


@pytest.mark.parametrize(
    ("turn", "expected"),
    [
        (90, ("blue", "red", "white", "green")),
        (180, ("white", "blue", "green", "red")),
        (270, ("green", "white", "red", "blue")),
    ],
)
def test_a_family_can_turn_a_clip_clockwise(turn, expected, tmp_path):
    first = cleaned(made.clip(tmp_path / "clip", seconds=0.3), tmp_path / "out")

    result = rotate(first.output(Role.CLIP).path, tmp_path / "out", turn)

    assert isinstance(result, Cleaned)
    assert corners(first_picture(result.output(Role.CLIP).path)) == expected


@pytest.mark.parametrize(
    ("size", "kept"),
    [
        ((1920, 1080), (1280, 720)),
        ((1080, 1920), (720, 1280)),
        ((1440, 1080), (960, 720)),
        ((160, 120), (160, 120)),
        ((2000, 400), (1280, 256)),
    ],
)
def test_a_clip_is_never_larger_than_a_phone_shows_and_never_enlarged(size, kept, tmp_path):
    source = made.clip(tmp_path / "clip", size=size, seconds=0.2, sound=None)

    result = cleaned(source, tmp_path / "out")

    assert (result.width, result.height) == kept
    assert first_picture(result.output(Role.CLIP).path).size == kept


def test_sides_of_a_clip_are_even_whatever_was_sent(tmp_path):
    source = made.clip(
        tmp_path / "clip", container="webm", video="libvpx", size=(161, 99), sound=None, seconds=0.2
    )

    result = cleaned(source, tmp_path / "out")

    assert result.width % 2 == result.height % 2 == 0


def test_a_clip_without_sound_is_kept_without_sound(tmp_path):
    result = cleaned(made.clip(tmp_path / "clip", sound=None), tmp_path / "out")

    with av.open(result.output(Role.CLIP).path) as kept:
        assert len(kept.streams) == 1


def test_an_unsteady_camera_keeps_its_time(tmp_path):
    times = [0.0, 0.04, 0.3, 0.34, 0.9, 1.5, 1.54]

    result = cleaned(made.clip(tmp_path / "clip", times=times, sound=None), tmp_path / "out")

    assert times_of(result) == pytest.approx(times, abs=0.002)


def test_a_fast_camera_is_brought_to_thirty_pictures_a_second(tmp_path):
    source = made.clip(tmp_path / "clip", rate=120, seconds=1, sound=None)

    result = cleaned(source, tmp_path / "out")

    assert len(times_of(result)) == pytest.approx(30, abs=1)


def test_thirty_pictures_a_second_lose_none(tmp_path):
    source = made.clip(tmp_path / "clip", rate=30, seconds=1, sound=None)

    assert len(times_of(cleaned(source, tmp_path / "out"))) == 30


def test_sound_that_begins_later_stays_with_its_picture(tmp_path):
    source = made.clip(tmp_path / "clip", seconds=1, sound_from=0.5)

    result = cleaned(source, tmp_path / "out")

    with av.open(result.output(Role.CLIP).path) as kept:
        heard = [frame for frame in kept.decode(audio=0) if made.loudest(frame) > 0.02]
    assert heard[0].time == pytest.approx(0.5, abs=0.05)


def test_the_index_comes_first_so_that_playing_starts_at_once(tmp_path):
    result = cleaned(made.clip(tmp_path / "clip"), tmp_path / "out")

    content = result.output(Role.CLIP).path.read_bytes()
    assert content.index(b"moov") < content.index(b"mdat")


def test_the_same_clip_gives_the_same_bytes(tmp_path):
    source = made.clip(tmp_path / "clip")

    assert cleaned(source, tmp_path / "out") == cleaned(source, tmp_path / "out")


def test_a_clip_in_ten_bit_wide_colour_plays(tmp_path):
    source = made.clip(tmp_path / "clip", container="mov", video="libx265", deep=True, sound=None)

    result = cleaned(source, tmp_path / "out")

    with av.open(result.output(Role.CLIP).path) as kept:
        assert kept.streams.video[0].codec_context.pix_fmt == "yuv420p"
    assert corners(first_picture(result.output(Role.CLIP).path)) == UPRIGHT


@pytest.mark.parametrize("container", ["mp4", "webm"])
def test_a_clip_over_the_limit_is_refused_with_that_reason(container, tmp_path):
    video = {"mp4": "libx264", "webm": "libvpx"}[container]
    source = made.clip(
        tmp_path / "clip", container=container, video=video, seconds=3, rate=5, sound=None
    )

    result = clean(source, tmp_path / "out", limits=replace(LIMITS, seconds=2))

    assert isinstance(result, Refused)
    assert result.reason is RefusalReason.TOO_LONG


def test_a_clip_that_does_not_say_how_long_it_is_is_measured(tmp_path):
    source = made.clip(
        tmp_path / "clip",
        container="webm",
        video="libvpx",
        seconds=3,
        rate=5,
        sound=None,
        options={"live": "1"},
    )
    with av.open(source) as unmeasured:
        assert not unmeasured.duration

    result = clean(source, tmp_path / "out", limits=replace(LIMITS, seconds=2))

    assert isinstance(result, Refused)
    assert result.reason is RefusalReason.TOO_LONG


def test_a_clip_with_more_pixels_than_4k_is_refused(tmp_path):
    source = made.clip(tmp_path / "clip", seconds=0.2, sound=None)

    result = clean(source, tmp_path / "out", limits=replace(LIMITS, clip_pixels=160 * 120 - 1))

    assert isinstance(result, Refused)
    assert result.reason is RefusalReason.TOO_MANY_PIXELS


def test_a_kind_of_picture_we_do_not_decode_is_refused(tmp_path):
    source = made.clip(tmp_path / "clip", container="mov", video="mjpeg", sound=None)

    result = clean(source, tmp_path / "out")

    assert isinstance(result, Refused)
    assert result.reason is RefusalReason.UNKNOWN_KIND
