"""From a file's bytes to a table, by what it is and not by its name."""

from django.utils.translation import gettext as _

from portal.people.roster_import.files.fields import is_known
from portal.people.roster_import.files.reading_csv import read_csv
from portal.people.roster_import.files.reading_xlsx import read_xlsx
from portal.people.roster_import.files.table import (
    LARGEST_FILE,
    LONGEST_CELL,
    MOST_COLUMNS,
    MOST_ROWS,
    Row,
    Table,
    UnreadableError,
    letters,
)

OLD_SPREADSHEET = b"\xd0\xcf\x11\xe0"  # Also what a spreadsheet with a password is packed in.
LINES_ABOVE = 15  # Titles, dates and the like stand above the headings of many exports.


def read(content: bytes) -> Table:
    """Read a roster file: .xlsx, or text with delimiters.

    Raises UnreadableError with a sentence for the office.
    """
    if not content.strip():
        raise UnreadableError(_("The file is empty."))
    if len(content) > LARGEST_FILE:
        raise UnreadableError(_("The file is larger than 5 MB: it is not a list of children."))
    if content.startswith(OLD_SPREADSHEET):
        raise UnreadableError(
            _("This is an old spreadsheet or one with a password. Save it as .xlsx without one.")
        )
    if content.lstrip()[:1] == b"<":
        raise UnreadableError(
            _("This is a web page that looks like a spreadsheet. Open it and save it as .xlsx.")
        )
    records = read_xlsx(content) if content.startswith(b"PK\x03\x04") else read_csv(content)
    return table_of([tidy_record(record) for record in records])


def table_of(records: list[list[str]]) -> Table:
    """Find the headings among *records*, and check the limits. Raises UnreadableError."""
    top = heading_row(records)
    rows = [Row(n, tuple(cells)) for n, cells in enumerate(records, 1) if n > top + 1]
    rows = [row for row in rows if not row.is_empty]
    if not rows:
        raise UnreadableError(_("There are no rows below the headings."))
    if len(rows) > MOST_ROWS:
        raise UnreadableError(_("There are more than 5,000 rows: bring in a part at a time."))
    width = max(len(cells) for cells in records)
    if width > MOST_COLUMNS:
        raise UnreadableError(_("There are more than 100 columns: leave out those not needed."))
    for row in rows:
        for column, cell in enumerate(row.cells):
            if len(cell) > LONGEST_CELL:
                where = {"row": row.number, "column": letters(column)}
                raise UnreadableError(
                    _("Row %(row)s, column %(column)s holds far too much text.") % where
                )
    headings = [*records[top], *[""] * (width - len(records[top]))]
    return Table(tuple(headings), tuple(rows))


def heading_row(records: list[list[str]]) -> int:
    """Return which of the first records holds the headings: where most of them are known words."""
    first = records[:LINES_ABOVE]
    if not first:
        raise UnreadableError(_("The file is empty."))
    return max(
        range(len(first)),
        key=lambda at: (
            sum(is_known(cell) for cell in first[at]),
            sum(bool(cell) for cell in first[at]),
            -at,
        ),
    )


def tidy_record(record: list[str]) -> list[str]:
    """Return a record with tidy cells, and without the empty ones at its end."""
    cells = [tidy(cell) for cell in record]
    while cells and not cells[-1]:
        cells.pop()
    return cells


def tidy(cell: str) -> str:
    """Return *cell* without spaces at its ends, and with single ones within."""
    return " ".join(cell.replace("\u00a0", " ").replace("\ufeff", "").split())
