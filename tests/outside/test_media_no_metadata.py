"""Nothing of place, device or person is left in what is kept, judged by readers of others.

Source: what ExifRead and MediaInfo read in the clean copies, and ExifTool and FFmpeg where they
are; photos and clips that carry a place, made here by Pillow, libheif and FFmpeg's libraries, and
others of other people where they are given: github.com/ianare/exif-samples (CC BY-SA 4.0),
github.com/drewnoakes/metadata-extractor-images.
"""

from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest

from evidence.media import Cleaned, clean
from tests.evidence.media import made, readers
from tests.evidence.media.samples import (
    KNOWING_A_PLACE,
    MAKER,
    OTHERS_KNOWING_A_PLACE,
    PERSON,
    PLACE,
    knowing_a_place,
)

ALL = [*KNOWING_A_PLACE, *OTHERS_KNOWING_A_PLACE]
PHOTOS = [name for name in ALL if name.lower().endswith((".jpg", ".heic"))]
CLIPS = [name for name in ALL if name not in PHOTOS]
# Source: ITU-T T.81, table B.1: JFIF (APP0), tables, the frame; no other APPn and no comment.
PIXELS_ALONE = {0xE0, 0xDB, 0xC4, 0xC0, 0xC2, 0xDD}
PLAIN_TAGS = {"major_brand", "minor_version", "compatible_brands"}
PLAIN_TAGS |= {"language", "handler_name", "vendor_id"}


@pytest.fixture(scope="module")
def folder(tmp_path_factory) -> Path:
    return tmp_path_factory.mktemp("knowing-a-place")


@pytest.fixture(scope="module")
def cleaned(folder, tmp_path_factory) -> Callable[[str], Cleaned]:
    """Return a function that cleans a file by its name, once."""

    @cache
    def clean_once(name: str) -> Cleaned:
        result = clean(knowing_a_place(name, folder), tmp_path_factory.mktemp("clean"))
        assert isinstance(result, Cleaned), result
        return result

    return clean_once


@pytest.mark.parametrize("name", ALL)
def test_the_files_did_carry_a_place_before(name, folder):
    assert readers.places_in(knowing_a_place(name, folder))


@pytest.mark.parametrize("name", ALL)
def test_no_place_device_or_person_is_left(name, cleaned):
    for output in cleaned(name).outputs:
        assert readers.told_by(output.path) == {}
        assert readers.places_in(output.path) == []
        assert readers.tracks_of(output.path)["General"]["internet_media_type"] == output.media_type


@pytest.mark.parametrize("name", ALL)
def test_exiftool_finds_no_place_device_or_person_either(name, folder, cleaned):
    assert any(
        word in key for key in readers.exiftool(knowing_a_place(name, folder))
        for word in ("GPS", "Location")
    )  # fmt: skip
    for output in cleaned(name).outputs:
        assert readers.told_by_exiftool(output.path) == {}
        assert readers.exiftool(output.path)["File:MIMEType"] == output.media_type


@pytest.mark.parametrize("name", PHOTOS)
def test_a_photo_keeps_only_its_pixels(name, cleaned):
    for output in cleaned(name).outputs:
        assert readers.segments_of(output.path) <= PIXELS_ALONE


@pytest.mark.parametrize("name", PHOTOS)
def test_exiftool_finds_only_pixels_in_a_photo(name, cleaned):
    for output in cleaned(name).outputs:
        groups = {key.split(":")[0] for key in readers.exiftool(output.path)}
        assert groups <= readers.PLAIN_GROUPS


@pytest.mark.parametrize("name", CLIPS)
def test_a_clip_keeps_picture_and_sound_and_no_chapter_or_data_track(name, cleaned):
    tracks = readers.tracks_of(cleaned(name).outputs[0].path)
    assert set(tracks) == {"General", "Video", "Audio"}
    assert [tracks[kind]["format"] for kind in ("Video", "Audio")] == ["AVC", "AAC"]


@pytest.mark.parametrize("name", CLIPS)
def test_ffprobe_finds_no_tag_chapter_or_data_track_in_a_clip(name, cleaned):
    seen = readers.ffprobe(cleaned(name).outputs[0].path)
    assert [stream["codec_name"] for stream in seen["streams"]] == ["h264", "aac"]
    assert seen["chapters"] == []
    for part in (seen["format"], *seen["streams"]):
        assert set(part.get("tags", {})) <= PLAIN_TAGS


@pytest.mark.parametrize("name", CLIPS)
def test_the_bytes_of_a_clip_name_no_device_place_or_encoder(name, cleaned):
    content = cleaned(name).outputs[0].path.read_bytes()
    ours = (MAKER.encode(), PERSON.encode(), PLACE[:6].encode(), b"loci")
    theirs = (b"Apple", b"iPhone", b"appl", b"+32.0")
    for word in (*ours, *theirs, b"x264", b"Lavf", b"Lavc", b"udta"):
        assert word not in content


def test_the_name_in_a_voice_note_is_gone(tmp_path):
    note = made.voice(tmp_path / "note.m4a", "ipod", "aac")
    assert readers.tracks_of(note)["General"]["performer"] == PERSON

    result = clean(note, tmp_path / "out")

    kept = result.outputs[0].path
    assert PERSON.encode() not in kept.read_bytes()
    assert readers.told_by(kept) == {}
