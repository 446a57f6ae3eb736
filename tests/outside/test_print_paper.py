"""Paper sizes and codes on paper, held against the standards."""

import pytest

from tasks.printing import A4, LETTER, OF_A_DAY, make_pdf
from tests.square_codes import printed_codes
from tests.tasks.printing.builders import SEND, day, order
from tests.tasks.printing.reading import ink_box, picture, sizes

INCH = 25.4


def test_a4_is_210_by_297_millimetres():
    """Source: ISO 216, trimmed sizes of paper: A4 is 210 mm by 297 mm."""
    assert sizes(make_pdf(order(paper=A4))) == {(210.0, 297.0)}


def test_us_letter_is_eight_and_a_half_by_eleven_inches():
    """Source: ANSI/ASME Y14.1, size A: 8.5 in by 11 in."""
    assert sizes(make_pdf(order(paper=LETTER))) == {(round(8.5 * INCH, 1), round(11 * INCH, 1))}


@pytest.mark.parametrize("dots", [150, 300])
@pytest.mark.parametrize("address", [SEND, "http://localhost:8000/today/", f"{SEND}?{'x' * 120}"])
def test_a_decoder_that_is_not_ours_reads_the_code_from_the_page(address, dots):
    """Source: ISO/IEC 18004 (QR code), as read by the decoder zxing-cpp."""
    pdf = make_pdf(order(*OF_A_DAY, days=(day(address=address),)))

    assert set(printed_codes(pdf, dots)) == {address}


def test_the_hundred_square_goes_from_margin_to_margin():
    """Source: common practice, no source: a hundred square is as large as the page allows."""
    left, _top, right, _bottom = ink_box(picture(make_pdf(order("hundred-square"))))

    assert 1 - left - right > 0.84
