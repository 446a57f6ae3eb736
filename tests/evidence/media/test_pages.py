"""The pages of a PDF become pictures, all of them or none."""

import pytest
from PIL import Image

from evidence.media import LIMITS, Cleaned, Kind, RefusalReason, Refused, Role, clean
from tests.evidence.media import made


def test_every_page_becomes_a_picture_and_the_first_a_thumbnail(tmp_path):
    source = made.pdf(tmp_path / "work.pdf", 3)

    result = clean(source, tmp_path / "out")

    assert isinstance(result, Cleaned)
    assert result.kind is Kind.PAGE
    names = ["page-01.jpg", "page-02.jpg", "page-03.jpg", "thumb.jpg"]
    assert [output.path.name for output in result.outputs] == names
    with Image.open(result.output(Role.PAGE).path) as page:
        assert page.height == LIMITS.display_side
        assert made.corners(page) == ("red", "white", "white", "white")


def test_a_family_can_turn_its_pages(tmp_path):
    result = clean(made.pdf(tmp_path / "work.pdf", 1), tmp_path / "out", turn=90)

    assert isinstance(result, Cleaned)
    with Image.open(result.output(Role.PAGE).path) as page:
        assert made.corners(page) == ("white", "red", "white", "white")


@pytest.mark.parametrize(
    ("pages", "size", "password", "reason"),
    [
        (LIMITS.pages + 1, (210, 297), "", RefusalReason.TOO_MANY_PAGES),
        (1, (4000, 20), "", RefusalReason.TOO_NARROW),
        (1, (210, 297), "secret", RefusalReason.LOCKED),
    ],
)
def test_a_pdf_that_cannot_be_kept_whole_is_refused(pages, size, password, reason, tmp_path):
    source = made.pdf(tmp_path / "work.pdf", pages, size=size, password=password)

    result = clean(source, tmp_path / "out")

    assert isinstance(result, Refused)
    assert result.reason is reason


def test_the_largest_number_of_pages_is_kept(tmp_path):
    result = clean(made.pdf(tmp_path / "work.pdf", LIMITS.pages), tmp_path / "out")

    assert isinstance(result, Cleaned)
    assert len(result.outputs) == LIMITS.pages + 1
