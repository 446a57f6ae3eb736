"""Nothing of place, device or person is left in what is kept, judged by programs of others.

Source: ExifTool's and FFmpeg's readings of the clean copies; photos and a clip that carry a place,
github.com/ianare/exif-samples (CC BY-SA 4.0), github.com/drewnoakes/metadata-extractor-images.
"""

import json
import subprocess
from pathlib import Path
from typing import Any

import pytest

from evidence.media import Cleaned, clean
from tests.evidence.media import made
from tests.evidence.media.made import shared_media

WITH_PLACE = ["DSCN0010.jpg", "DSCN0040.jpg", "IMG_5195.HEIC", "with-gps.mov"]
# What describes the file or its pixels; everything else would be metadata.
PLAIN_GROUPS = {"SourceFile", "ExifTool", "System", "File", "Composite", "JFIF"}
TELLING = ("gps", "make", "model", "software", "lens", "serial", "location", "author", "artist",
           "comment", "copyright", "title", "encoder", "vendor", "xmp", "iptc", "icc",
           "thumbnail", "creat")  # fmt: skip
PLAIN_TAGS = {"major_brand", "minor_version", "compatible_brands"}
PLAIN_TAGS |= {"language", "handler_name", "vendor_id"}


def exiftool(path: Path) -> dict[str, Any]:
    """Give every tag ExifTool finds in *path*, unknown ones too, by group and name."""
    command = ["exiftool", "-json", "-G1", "-a", "-u", "-U", "-ee", path]
    run = subprocess.run(command, capture_output=True, check=True, timeout=30)
    return json.loads(run.stdout)[0]


def ffprobe(path: Path) -> dict[str, Any]:
    """Give what FFmpeg reads of the container at *path*."""
    command = ["ffprobe", "-v", "error", "-of", "json", "-show_format", "-show_streams"]
    run = subprocess.run(
        [*command, "-show_chapters", path], capture_output=True, check=True, timeout=30
    )
    return json.loads(run.stdout)


def telling(tags: dict[str, Any]) -> dict[str, Any]:
    """Give the tags that would tell a place, device, person or time."""
    named = {key: value for key, value in tags.items() if key.split(":")[0] not in PLAIN_GROUPS}
    return {
        key: value
        for key, value in named.items()
        if any(word in key.lower() for word in TELLING) and value not in ("0000:00:00 00:00:00",)
    }


@pytest.fixture(scope="module")
def cleaned(tmp_path_factory) -> dict[str, Cleaned]:
    """Clean all four files."""
    results = {}
    for name in WITH_PLACE:
        result = clean(shared_media(f"place/{name}"), tmp_path_factory.mktemp(name))
        assert isinstance(result, Cleaned)
        results[name] = result
    return results


@pytest.mark.parametrize("name", WITH_PLACE)
def test_the_files_did_carry_a_place_before(name):
    assert any("GPS" in key for key in exiftool(shared_media(f"place/{name}")))


@pytest.mark.parametrize("name", WITH_PLACE)
def test_no_place_device_or_person_is_left(name, cleaned):
    for output in cleaned[name].outputs:
        tags = exiftool(output.path)
        assert telling(tags) == {}
        assert tags["File:MIMEType"] == output.media_type


@pytest.mark.parametrize("name", WITH_PLACE[:3])
def test_a_photo_keeps_only_its_pixels(name, cleaned):
    for output in cleaned[name].outputs:
        groups = {key.split(":")[0] for key in exiftool(output.path)}
        assert groups <= PLAIN_GROUPS


def test_a_clip_keeps_picture_and_sound_and_no_tag_chapter_or_data_track(cleaned):
    seen = ffprobe(cleaned["with-gps.mov"].outputs[0].path)
    assert [stream["codec_name"] for stream in seen["streams"]] == ["h264", "aac"]
    assert seen["chapters"] == []
    for part in (seen["format"], *seen["streams"]):
        assert set(part.get("tags", {})) <= PLAIN_TAGS


def test_the_bytes_of_a_clip_name_no_device_place_or_encoder(cleaned):
    content = cleaned["with-gps.mov"].outputs[0].path.read_bytes()
    for word in (b"Apple", b"iPhone", b"appl", b"+32.0", b"x264", b"Lavf", b"Lavc", b"udta"):
        assert word not in content


def test_the_name_in_a_voice_note_is_gone(tmp_path):
    note = made.voice(tmp_path / "note.m4a", "ipod", "aac")
    assert b"Invented Name" in note.read_bytes()

    result = clean(note, tmp_path / "out")

    kept = result.outputs[0].path
    assert b"Invented Name" not in kept.read_bytes()
    assert set(ffprobe(kept)["format"]["tags"]) <= PLAIN_TAGS
