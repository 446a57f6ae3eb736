"""Tables to take away, as CSV or a workbook that a spreadsheet opens without running anything."""

import csv
import datetime as dt
import io
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from django.http import HttpResponse

# A spreadsheet reads a cell that starts so as a formula (OWASP, CSV injection).
FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")
WORKBOOK = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
Rows = Iterable[Sequence[object]]


@dataclass(frozen=True)
class Table:
    """What stands on a page as a table, to take away. `name` is the file's, and names no child."""

    name: str
    headings: Sequence[object]
    rows: Sequence[Sequence[object]]


def harmless(cell: object) -> str:
    """Return *cell* as text that no spreadsheet takes for a formula.

    >>> harmless("=1+1"), harmless("Aisha K"), harmless(3)
    ("'=1+1", 'Aisha K', '3')
    """
    text = str(cell)
    return f"'{text}" if text.lstrip(" ").startswith(FORMULA_STARTS) else text


def take_away(table: Table, form: str) -> HttpResponse:
    """Return *table* as a file: "csv" or "xlsx"."""
    make = {"csv": as_csv, "xlsx": as_workbook}[form]
    kind = {"csv": "text/csv; charset=utf-8", "xlsx": WORKBOOK}[form]
    headers = {
        "Content-Disposition": f'attachment; filename="{table.name}.{form}"',
        "Cache-Control": "no-store",
    }
    return HttpResponse(make(table), content_type=kind, headers=headers)


def as_csv(table: Table) -> bytes:
    """Return *table* as CSV (RFC 4180), every cell harmless."""
    buffer = io.StringIO(newline="")
    buffer.write("\ufeff")  # Without it, common spreadsheets take UTF-8 for something else.
    writer = csv.writer(buffer)
    writer.writerows([harmless(cell) for cell in row] for row in (table.headings, *table.rows))
    return buffer.getvalue().encode()


def as_workbook(table: Table) -> bytes:
    """Give *table* as a workbook of one sheet (ECMA-376): numbers, days, and the rest as text."""
    from openpyxl import Workbook  # Slow to load, and seldom needed.
    from openpyxl.styles import Font

    book = Workbook(write_only=True)
    sheet = book.create_sheet(table.name[:31])
    sheet.freeze_panes = "B2"
    bold = Font(bold=True)
    for number, row in enumerate((table.headings, *table.rows)):
        cells = [_cell(sheet, value) for value in row]
        for cell in cells if number == 0 else cells[:1]:
            cell.font = bold
        sheet.append(cells)
    buffer = io.BytesIO()
    book.save(buffer)
    return buffer.getvalue()


def _cell(sheet: object, value: object) -> Any:
    """Return a cell; text is marked as text, so that none of it is a formula."""
    from openpyxl.cell import WriteOnlyCell
    from openpyxl.cell.cell import ILLEGAL_CHARACTERS_RE

    if isinstance(value, int | float) and not isinstance(value, bool):
        return WriteOnlyCell(sheet, value)
    if isinstance(value, dt.date):
        day = WriteOnlyCell(sheet, value)
        day.number_format = "yyyy-mm-dd"
        return day
    cell = WriteOnlyCell(sheet, ILLEGAL_CHARACTERS_RE.sub("", str(value)))
    cell.data_type = "s"
    return cell
