"""A roster file once it is read: headings, and rows with their numbers in the file."""

from dataclasses import dataclass

LARGEST_FILE = 5_000_000  # bytes
MOST_ROWS, MOST_COLUMNS, LONGEST_CELL = 5_000, 100, 500


class UnreadableError(Exception):
    """The file cannot be read; the message says why, and what to do."""


@dataclass(frozen=True)
class Row:
    """The cells of one row as text; *number* is what a spreadsheet shows at its edge."""

    number: int
    cells: tuple[str, ...]

    def cell(self, column: int) -> str:
        """Return the cell of *column*; a short row has empty cells at its end."""
        return self.cells[column] if column < len(self.cells) else ""

    @property
    def is_empty(self) -> bool:
        """Whether nothing stands in it."""
        return not any(self.cells)


@dataclass(frozen=True)
class Table:
    """Headings and the rows below them, empty rows left out."""

    headings: tuple[str, ...]
    rows: tuple[Row, ...]

    def examples(self, column: int, most: int = 3) -> list[str]:
        """Return a few different cells of *column*, for people to see what it holds."""
        seen = dict.fromkeys(row.cell(column) for row in self.rows if row.cell(column))
        return list(seen)[:most]


def letters(column: int) -> str:
    """Return the name a spreadsheet shows above *column*, counted from 0: A, B … Z, AA."""
    name = ""
    column += 1
    while column:
        column, rest = divmod(column - 1, 26)
        name = chr(ord("A") + rest) + name
    return name
