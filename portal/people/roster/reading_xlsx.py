"""Spreadsheets in the open format of ISO/IEC 29500 (.xlsx), read without working anything out."""

import datetime as dt
import io
import zipfile
from typing import Any

from django.utils.translation import gettext as _
from openpyxl import DEFUSEDXML, load_workbook

from portal.people.roster.table import MOST_COLUMNS, MOST_ROWS, UnreadableError

# What a file of the greatest size allowed may unpack to, and how many parts it may have.
MOST_UNPACKED, MOST_PARTS = 40_000_000, 500
NOT_A_SPREADSHEET = "not a spreadsheet"

if not DEFUSEDXML:
    raise ImportError("defusedxml must be installed: spreadsheets are XML from outside")


def read_xlsx(content: bytes) -> list[list[str]]:
    """Give the rows of the first sheet with anything in it. Raises UnreadableError."""
    check_packing(content)
    try:
        # data_only: a formula gives what the spreadsheet last showed; nothing is worked out here.
        book = load_workbook(io.BytesIO(content), read_only=True, data_only=True, keep_links=False)
        sheets = [sheet for sheet in book.worksheets if sheet.sheet_state == "visible"]
        tables = (rows_of(sheet) for sheet in sheets)
        return next((rows for rows in tables if any(any(row) for row in rows)), [])
    except UnreadableError:
        raise
    except Exception as error:  # openpyxl raises what its parts raise: no list of it is complete.
        raise unreadable() from error


def check_packing(content: bytes) -> None:
    """Refuse a file that unpacks to far more than a class list is, before it is unpacked."""
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as packed:
            parts = packed.infolist()
    except (zipfile.BadZipFile, ValueError, NotImplementedError) as error:
        raise unreadable() from error
    if not any(part.filename == "xl/workbook.xml" for part in parts):
        raise unreadable()
    if len(parts) > MOST_PARTS or sum(part.file_size for part in parts) > MOST_UNPACKED:
        raise UnreadableError(
            _("This spreadsheet is too big. Copy the list into a new one and save that.")
        )


def unreadable() -> UnreadableError:
    """Give the error for what is no such spreadsheet, or a damaged one."""
    return UnreadableError(
        _("This is no spreadsheet that can be read. Open it and save it as .xlsx or as CSV.")
    )


def rows_of(sheet: Any) -> list[list[str]]:
    """Give the rows of *sheet* as text, up to the limits; what a sheet says of its size may lie."""
    sheet.reset_dimensions()
    found: list[list[str]] = []
    for row in sheet.iter_rows(max_col=MOST_COLUMNS + 1, values_only=True):
        found.append([text_of(value) for value in row])
        if len(found) > MOST_ROWS + 20:
            break
    return found


def text_of(value: Any) -> str:
    """Give a cell as text: dates as 2021-09-03, whole numbers without a point."""
    if value is None:
        return ""
    if isinstance(value, dt.datetime):
        return value.date().isoformat()
    if isinstance(value, float) and value.is_integer():
        return str(int(value))
    return str(value)
