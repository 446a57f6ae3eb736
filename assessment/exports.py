"""Tables to take away, as CSV that a spreadsheet opens without running anything."""

import csv
from collections.abc import Iterable, Sequence

from django.http import HttpResponse

from assessment.progress import Grid

# A spreadsheet reads a cell that starts so as a formula (OWASP, CSV injection).
FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")


def harmless(cell: object) -> str:
    """Give *cell* as text that no spreadsheet takes for a formula.

    >>> harmless("=1+1"), harmless("Aisha K"), harmless(3)
    ("'=1+1", 'Aisha K', '3')
    """
    text = str(cell)
    return f"'{text}" if text.lstrip(" ").startswith(FORMULA_STARTS) else text


def csv_answer(name: str, rows: Iterable[Sequence[object]]) -> HttpResponse:
    """Give *rows* as a CSV file to save under *name*, which names no child."""
    answer = HttpResponse(content_type="text/csv; charset=utf-8")
    answer["Content-Disposition"] = f'attachment; filename="{name}"'
    answer.write("\ufeff")  # Without it, common spreadsheets take UTF-8 for something else.
    writer = csv.writer(answer)
    writer.writerows([harmless(cell) for cell in row] for row in rows)
    return answer


def grid_rows(grid: Grid, heading: str) -> Iterable[Sequence[object]]:
    """Yield the grid as it is on screen, headings first."""
    yield [heading, *(f"{goal.strand}: {goal.label}" for goal in grid.goals)]
    for child, cells in grid.rows:
        yield [child, *cells]
