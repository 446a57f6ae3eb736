"""Every kind of voice note becomes plain mono sound at an even loudness."""

from dataclasses import replace

import av
import pytest

from evidence.media import LIMITS, Cleaned, Kind, RefusalReason, Refused, Role, clean
from tests.evidence.media import made

KINDS = [
    ("ipod", "aac"),
    ("mp4", "aac"),
    ("mp3", "libmp3lame"),
    ("ogg", "libopus"),
    ("wav", "pcm_s16le"),
    ("webm", "libopus"),
]


def cleaned(path, out):
    """Clean *path*, which must succeed, and give the result and its sound's file."""
    result = clean(path, out)
    assert isinstance(result, Cleaned), result
    return result, result.output(Role.SOUND).path


@pytest.mark.parametrize(("container", "codec"), KINDS)
def test_every_kind_of_voice_note_becomes_the_same_kind(container, codec, tmp_path):
    note = made.voice(tmp_path / "note", container, codec)

    result, sound = cleaned(note, tmp_path / "out")

    assert (result.kind, result.width, sound.name) == (Kind.VOICE, 0, "sound.m4a")
    assert result.seconds == pytest.approx(1.0, abs=0.1)
    with av.open(sound) as kept:
        assert [stream.type for stream in kept.streams] == ["audio"]
        assert kept.streams.audio[0].codec_context.name == "aac"
        assert kept.streams.audio[0].codec_context.layout.name == "mono"


def test_a_quiet_child_and_a_loud_adult_come_out_alike(tmp_path):
    peaks = []
    for name, loudness in (("quiet", 0.05), ("loud", 0.9)):
        note = made.voice(tmp_path / name, "wav", "pcm_s16le", loudness=loudness)
        _, sound = cleaned(note, tmp_path / f"{name}-out")
        with av.open(sound) as kept:
            peaks.append(max(made.loudest(frame) for frame in kept.decode(audio=0)))

    assert min(peaks) > 0.6
    assert max(peaks) / min(peaks) < 1.25


def test_silence_stays_silence(tmp_path):
    note = made.voice(tmp_path / "note", "wav", "pcm_s16le", loudness=0.0)

    _, sound = cleaned(note, tmp_path / "out")

    with av.open(sound) as kept:
        assert max(made.loudest(frame) for frame in kept.decode(audio=0)) < 0.01


def test_a_cover_picture_does_not_make_a_clip_of_a_voice_note(tmp_path):
    note = made.with_cover(made.voice(tmp_path / "note.mp3", "mp3", "libmp3lame"))
    with av.open(note) as covered:
        assert [stream.type for stream in covered.streams] == ["audio", "video"]

    result, _ = cleaned(note, tmp_path / "out")

    assert result.kind is Kind.VOICE
    assert len(result.outputs) == 1


def test_a_voice_note_over_the_limit_is_refused_with_that_reason(tmp_path):
    note = made.voice(tmp_path / "note", "ogg", "libopus", seconds=3)

    result = clean(note, tmp_path / "out", limits=replace(LIMITS, seconds=2))

    assert isinstance(result, Refused)
    assert result.reason is RefusalReason.TOO_LONG


def test_the_same_voice_note_gives_the_same_bytes(tmp_path):
    note = made.voice(tmp_path / "note", "ogg", "libopus")

    assert cleaned(note, tmp_path / "out") == cleaned(note, tmp_path / "out")


def test_a_pause_left_out_of_a_recording_is_put_back(tmp_path):
    note = made.voice(tmp_path / "note", "matroska", "pcm_s16le", seconds=0.4, again_at=1.0)

    result, sound = cleaned(note, tmp_path / "out")

    assert result.seconds == pytest.approx(1.4, abs=0.1)
    with av.open(sound) as kept:
        samples = sum(frame.samples for frame in kept.decode(audio=0))
    assert samples / made.RATE == pytest.approx(1.4, abs=0.1)
