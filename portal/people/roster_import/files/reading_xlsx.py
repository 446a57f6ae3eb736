"""Spreadsheets in the open format of ISO/IEC 29500 (.xlsx), read without working anything out."""

import datetime as dt
import io
import shutil
import zipfile
import zlib
from typing import Any

from django.utils.translation import gettext as _

from portal.people.roster_import.files.table import MOST_COLUMNS, MOST_ROWS, UnreadableError

# What a file of the greatest size allowed may unpack to, and how many parts it may have.
MOST_UNPACKED, MOST_PARTS = 40_000_000, 500
# Sheets are read row by row; all other parts are held whole, at up to fifteen times their size.
MOST_HELD = {"xl/sharedStrings.xml": 8_000_000}
MOST_HELD_OTHERWISE = 2_000_000
READ = (".xml", ".rels")  # pictures and the like are left out
PIECE = 65_536  # bytes unpacked at a time


def read_xlsx(content: bytes) -> list[list[str]]:
    """Return the rows of the first sheet with anything in it. Raises UnreadableError."""
    unpacked = repacked(content)
    from openpyxl import DEFUSEDXML, load_workbook  # Slow to load, and seldom needed.

    if not DEFUSEDXML:
        raise ImportError("defusedxml must be installed: spreadsheets are XML from outside")
    try:
        # data_only: a formula gives what the spreadsheet last showed; nothing is worked out here.
        book = load_workbook(unpacked, read_only=True, data_only=True, keep_links=False)
        sheets = [sheet for sheet in book.worksheets if sheet.sheet_state == "visible"]
        tables = (rows_of(sheet) for sheet in sheets)
        return next((rows for rows in tables if any(any(row) for row in rows)), [])
    except UnreadableError:
        raise
    except Exception as error:  # openpyxl raises what its parts raise: no list of it is complete.
        raise unreadable() from error


def repacked(content: bytes) -> io.BytesIO:
    """Return the same workbook with nothing packed, so that opening it takes no more than its size.

    What the list of parts says of their sizes may lie; read by the piece, no part gives more.
    Raises UnreadableError when it is no workbook, or unpacks to far more than a class list.
    """
    plain = io.BytesIO()
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as packed, zipfile.ZipFile(plain, "w") as whole:
            parts = [part for part in packed.infolist() if part.filename.endswith(READ)]
            if not any(part.filename == "xl/workbook.xml" for part in parts):
                raise unreadable()
            if len(parts) > MOST_PARTS or sum(part.file_size for part in parts) > MOST_UNPACKED:
                raise too_big()
            if any(part.file_size > most_in(part.filename) for part in parts):
                raise too_big()
            for part in parts:
                with packed.open(part) as source, whole.open(part.filename, "w") as target:
                    shutil.copyfileobj(source, target, PIECE)
    except (zipfile.BadZipFile, zlib.error, EOFError, ValueError, NotImplementedError) as error:
        raise unreadable() from error
    return plain


def most_in(name: str) -> int:
    """Return how many bytes the part *name* may unpack to."""
    if name.startswith("xl/worksheets/"):
        return MOST_UNPACKED
    return MOST_HELD.get(name, MOST_HELD_OTHERWISE)


def too_big() -> UnreadableError:
    """Return the error for what unpacks to far more than a class list."""
    return UnreadableError(
        _("This spreadsheet is too big. Copy the list into a new one and save that.")
    )


def unreadable() -> UnreadableError:
    """Return the error for what is no such spreadsheet, or a damaged one."""
    return UnreadableError(
        _("This spreadsheet cannot be read. Open it and save it as .xlsx or as CSV.")
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
    """Return a cell as text: dates as 2021-09-03, whole numbers without a point."""
    if value is None:
        return ""
    if isinstance(value, dt.datetime):
        return value.date().isoformat()
    if isinstance(value, float) and value.is_integer():
        return str(int(value))
    return str(value)
