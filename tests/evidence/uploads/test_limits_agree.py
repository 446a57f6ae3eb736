"""The limits that people read are those the code holds (ASVS 5.0, 5.1.1)."""

import re

import pytest
from django.conf import settings

from evidence.media import LIMITS, Kind
from evidence.media.outcome import SourceFormat
from evidence.media.recognise import KNOWN
from evidence.uploads import limits
from evidence.uploads.tus import protocol, upload

MB = 1_000_000


def section() -> str:
    """Return the document on what can be sent."""
    return (settings.BASE_DIR / "portal/operations/docs/sending.md").read_text(encoding="utf-8")


def rows() -> dict[str, list[str]]:
    """Return the cells of each row of its tables by the first."""
    found = re.findall(r"^\| (.+?) \|(.*)\|$", section(), re.M)
    return {first: [cell.strip() for cell in rest.split("|")] for first, rest in found}


def numbers(text: str) -> list[int]:
    return [int(each.replace(",", "")) for each in re.findall(r"\d[\d,]*", text)]


@pytest.mark.parametrize("kind", Kind)
def test_formats_and_sizes_are_those_of_the_code(kind):
    formats, most, more = rows()[kind.value]
    also = {
        Kind.PHOTO: [LIMITS.pixels // MB, LIMITS.side],
        Kind.CLIP: [LIMITS.seconds // 60],
        Kind.VOICE: [LIMITS.seconds // 60],
        Kind.PAGE: [LIMITS.pages],
    }
    known = {each.name for each, (what, _type) in KNOWN.items() if what == kind}

    assert numbers(most) == [LIMITS.allowance(kind).bytes // MB]
    assert numbers(more) == also[kind]
    assert formats == limits.WHAT[kind][1]
    assert {SourceFormat[name] for name in known} == {named(each) for each in formats.split(", ")}


def named(word: str) -> SourceFormat:
    """Return the format that a reader's word stands for."""
    return SourceFormat[{"HEIC": "HEIF", "3GP": "THREEGP"}.get(word, word.upper())]


def test_the_shares_of_a_submission_and_of_a_home_are_those_of_the_code():
    table = rows()

    assert numbers(" ".join(table["one submission"])) == [
        limits.MAX_PIECES,
        limits.MAX_BYTES // MB,
    ]
    assert numbers(" ".join(table["one home in 24 hours"])) == [
        limits.HOME_PIECES,
        limits.HOME_BYTES // MB,
    ]
    assert limits.HOME_SPAN.total_seconds() == 24 * 60 * 60
    assert numbers(table["one home, on their way at once"][0]) == [limits.HOME_OPEN]
    assert numbers(table["one home, begun in an hour"][0]) == [limits.HOME_STARTS]
    assert limits.STARTS_SPAN.total_seconds() == 60 * 60


def test_how_long_an_upload_goes_on_is_as_said():
    assert f"for {upload.LIFE.days} days" in " ".join(section().split())


def test_the_most_that_tus_tells_of_is_the_largest_file_there_is():
    assert max(LIMITS.allowance(kind).bytes for kind in Kind) == protocol.MAX_SIZE


def test_phones_make_photos_as_small_as_said():
    script = (settings.BASE_DIR / "evidence/static/evidence/photos.js").read_text()
    [longest] = re.findall(r"const LONGEST = (\d+);", script)
    assert f"longest side {int(longest):,}" in section()
    assert int(longest) >= LIMITS.display_side


def test_the_page_to_send_from_names_what_the_code_takes():
    for line in limits.table():
        kind = next(each for each, (what, _formats) in limits.WHAT.items() if what == line.what)
        assert numbers(line.most)[0] == LIMITS.allowance(kind).bytes // MB
