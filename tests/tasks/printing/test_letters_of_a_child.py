"""How large the letters are that a child reads on its side of the day."""

import io

import pytest
from django.utils import translation
from pypdf import PdfReader

from tasks.printing import A4, make_pdf
from tasks.printing.paper import MARGIN
from tests.tasks.printing.builders import day, line, order, part
from tests.tasks.printing.reading import MILLIMETRE

LEAST = 11.0  # points


@pytest.mark.parametrize("language", ["en-gb", "ar", "cy", "pl", "ro", "uk", "ur"])
def test_what_a_child_reads_is_eleven_points_or_more(language: str):
    asked = part(line("Which is more?", choices=("7", "9")), line())
    with translation.override(language):
        pdf = make_pdf(order("two-sides", days=(day(asked),)))
    sizes: list[float] = []

    def note(text: str, page: list[float], matrix: list[float], _font: object, size: float) -> None:
        from_foot = (page[5] + page[3] * matrix[5]) / MILLIMETRE
        # The line at the head and the number at the foot are for who sorts the paper.
        if text.strip() and MARGIN + 3 < from_foot < A4.height - MARGIN - 3:
            sizes.append(size)

    PdfReader(io.BytesIO(pdf)).pages[0].extract_text(visitor_text=note)

    assert len(sizes) > 5
    assert min(sizes) >= LEAST
