"""The sample files made here are what they say they are, by the reading of others.

Source: what MediaInfo, mutagen, ExifRead and pypdf read in them; ISO 6709 for the place of a clip.
"""

import mutagen
import pytest
from pypdf import PdfReader

from tests.evidence.media import made, readers, samples


@pytest.mark.parametrize("name", ["photo.jpg", "photo.heic"])
def test_a_photo_tells_where_with_what_and_by_whom_it_was_taken(name, tmp_path):
    read = readers.exif_of(samples.knowing_a_place(name, tmp_path))

    assert (read["GPS GPSLatitude"], read["GPS GPSLatitudeRef"]) == ("[12, 30, 0]", "N")
    assert (read["GPS GPSLongitude"], read["GPS GPSLongitudeRef"]) == ("[34, 15, 0]", "W")
    assert (read["Image Make"], read["Image Artist"]) == (samples.MAKER, samples.PERSON)


def test_a_heic_is_a_picture_in_hevc(tmp_path):
    tracks = readers.tracks_of(samples.heic(tmp_path / "photo.heic"))

    assert tracks["General"]["codec_id"] == "heic"
    assert (tracks["Image"]["format"], tracks["Image"]["width"]) == ("HEVC", 800)


def test_a_mov_tells_its_place_and_maker_and_is_held_sideways(tmp_path):
    tracks = readers.tracks_of(samples.clip(tmp_path / "clip.mov"))

    assert tracks["General"]["codec_id"].strip() == "qt"
    assert (tracks["General"]["xyz"], tracks["General"]["make"]) == (samples.PLACE, samples.MAKER)
    assert tracks["Video"]["rotation"] == "90.000"


def test_a_3gp_is_one_and_holds_a_place(tmp_path):
    path = samples.knowing_a_place("clip.3gp", tmp_path)

    assert readers.tracks_of(path)["General"]["codec_id"] == "3gp6"
    assert readers.places_in(path) == ["12.5000 -34.2500"]


def test_a_gif_is_one(tmp_path):
    made.quarters(40, 30).save(tmp_path / "picture.gif")

    assert readers.tracks_of(tmp_path / "picture.gif")["General"]["format"] == "GIF"


@pytest.mark.parametrize(
    ("container", "codec", "kind"),
    [
        ("ipod", "aac", "audio/mp4"),
        ("mp3", "libmp3lame", "audio/mp3"),
        ("ogg", "libopus", "audio/ogg"),
        ("wav", "pcm_s16le", "audio/wav"),
    ],
)
def test_a_sound_is_of_its_kind_and_a_second_long(container, codec, kind, tmp_path):
    read = mutagen.File(made.voice(tmp_path / "note", container, codec))

    assert kind in read.mime
    assert read.info.length == pytest.approx(1.0, abs=0.1)


def test_a_pdf_has_its_pages(tmp_path):
    assert len(PdfReader(made.pdf(tmp_path / "work.pdf", 3)).pages) == 3
