"""A file is told by its content, whatever it is called."""

import pytest
from PIL import Image

from evidence.media import LIMITS, Kind, Recognised, RefusalReason, Refused, SourceFormat, recognise
from tests.evidence.media import made
from tests.evidence.media.samples import knowing_a_place

ZIP = b"PK\x03\x04" + bytes(60)
STRANGERS = {
    "a web page": b"<!DOCTYPE html><script>alert(1)</script>",
    "a drawing with scripts": b"<svg xmlns='http://www.w3.org/2000/svg' onload='x()'/>",
    "a program for a web server": b"<?php system($_GET['c']); ?>",
    "an archive": ZIP,
    "a test virus": rb"X5O!P%@AP[4\PZX54(P^)7CC)7}$EICAR-STANDARD-ANTIVIRUS-TEST-FILE!$H+H*",
    "a playlist": b"#EXTM3U\n#EXTINF:1,\n/etc/passwd\n",
    "a list of files to join": b"ffconcat version 1.0\nfile /etc/passwd\n",
    "a session description": b"v=0\no=- 0 0 IN IP4 127.0.0.1\nc=IN IP4 127.0.0.1\n",
    "a manifest of streams": b"<?xml version='1.0'?><MPD></MPD>",
    "a page description": b"%!PS-Adobe-3.0 EPSF-3.0\n",
    "a program": b"\x7fELF" + bytes(60),
    "another kind of film": b"RIFF\x00\x00\x00\x00AVI LIST",
    "text with a byte order mark": b"\xff\xfeh\x00i\x00",
    "one byte": b"\xff",
    "an unknown brand": b"\x00\x00\x00\x18ftypabcd\x00\x00\x00\x00abcdefgh",
}


@pytest.mark.parametrize("content", STRANGERS.values(), ids=STRANGERS)
@pytest.mark.parametrize("name", ["photo.jpg", "clip.mp4"])
def test_what_is_no_photo_clip_voice_or_pdf_is_refused_at_once(content, name, tmp_path):
    path = tmp_path / name
    path.write_bytes(content)

    assert recognise(path) == Refused(RefusalReason.UNKNOWN_KIND, "first bytes match no known kind")


@pytest.mark.parametrize("written", ["JPEG", "PNG", "WEBP", "AVIF", "GIF"])
def test_a_photo_is_known_under_any_name(written, tmp_path):
    path = tmp_path / "letter.docx"
    made.quarters(40, 30).save(path, written)

    found = recognise(path)

    assert isinstance(found, Recognised)
    assert (found.kind, found.format) == (Kind.PHOTO, written.lower())


@pytest.mark.parametrize(
    ("name", "found"),
    [
        ("photo.heic", SourceFormat.HEIF),
        ("place/IMG_5195.HEIC", SourceFormat.HEIF),
        ("clip.mov", SourceFormat.MOV),
        ("place/with-gps.mov", SourceFormat.MOV),
    ],
)
def test_a_phones_own_photo_and_clip_are_known(name, found, tmp_path):
    answer = recognise(knowing_a_place(name, tmp_path))

    assert isinstance(answer, Recognised)
    assert answer.format is found


@pytest.mark.parametrize(
    ("container", "codec", "found"),
    [
        ("ipod", "aac", SourceFormat.M4A),
        ("mp3", "libmp3lame", SourceFormat.MP3),
        ("ogg", "libopus", SourceFormat.OGG),
        ("wav", "pcm_s16le", SourceFormat.WAV),
        ("webm", "libopus", SourceFormat.WEBM),
    ],
)
def test_a_voice_note_is_known(container, codec, found, tmp_path):
    note = made.voice(tmp_path / "note", container, codec, seconds=0.1)

    answer = recognise(note)

    assert isinstance(answer, Recognised)
    assert answer.format is found


def test_an_mp3_without_tags_is_known():
    assert isinstance(recognise(b"\xff\xfb\x90\x64" + bytes(400)), Recognised)


def test_a_clip_from_before_brands_were_written_is_known():
    answer = recognise(b"\x00\x00\x00\x08wide\x00\x00\x10\x00mdat")

    assert isinstance(answer, Recognised)
    assert answer.format is SourceFormat.MOV


def test_an_empty_file_is_called_empty(tmp_path):
    path = tmp_path / "photo.jpg"
    path.touch()

    assert recognise(path) == Refused(RefusalReason.EMPTY)
    assert recognise(b"") == Refused(RefusalReason.EMPTY)


def test_a_file_one_byte_over_the_limit_is_refused_from_its_first_bytes():
    head = b"\xff\xd8\xff\xe0" + bytes(100)

    assert isinstance(recognise(head, size=LIMITS.photo.bytes), Recognised)
    over = recognise(head, size=LIMITS.photo.bytes + 1)
    assert isinstance(over, Refused)
    assert over.reason is RefusalReason.TOO_BIG


def test_only_the_beginning_of_a_file_is_read(tmp_path):
    path = tmp_path / "sparse.jpg"
    with path.open("wb") as file:
        file.write(b"\xff\xd8\xff\xe0")
        file.truncate(LIMITS.photo.bytes)

    assert isinstance(recognise(path), Recognised)


def test_two_pictures_in_one_file_are_known_as_a_photo(tmp_path):
    path = tmp_path / "pair"
    made.quarters(40, 30).save(
        path, "MPO", save_all=True, append_images=[Image.new("RGB", (40, 30))]
    )

    assert isinstance(recognise(path), Recognised)
