"""What each row says: a child, their class, and the adults at home; or what is wrong with it."""

import datetime as dt
import re
from collections.abc import Sequence
from dataclasses import dataclass

from django.core.exceptions import ValidationError
from django.core.validators import validate_email
from django.utils.translation import gettext as _

from portal.people.roster_import.files import fields
from portal.people.roster_import.files.table import Row, Table, letters

LONGEST_FIRST_NAME, LONGEST_CLASS = 40, 40
DAY_FIRST = re.compile(r"(\d{1,2})[./ -](\d{1,2})[./ -](\d{2}|\d{4})(?: .*)?")
YEAR_FIRST = re.compile(r"(\d{4})-(\d{1,2})-(\d{1,2})(?:[T ].*)?")


@dataclass(frozen=True)
class Problem:
    """What is wrong, in which row, and in which column if it is one."""

    row: int
    words: str
    column: str = ""

    def __str__(self) -> str:
        where = {"row": self.row, "column": self.column, "words": self.words}
        if self.column:
            return _("Row %(row)s, column %(column)s: %(words)s") % where
        return _("Row %(row)s: %(words)s") % where


class CellError(ValueError):
    """A cell that cannot be read; the message says why."""


@dataclass(frozen=True)
class Adult:
    """An adult at home as a row has them: an address to invite, and where they live."""

    email: str
    address: str = ""


@dataclass(frozen=True)
class Line:
    """One row, read. *family*, *number*, *born* and *address* live for the run only."""

    row: int
    first: str
    family: str
    class_name: str
    number: str = ""
    born: dt.date | None = None
    address: str = ""
    adults: tuple[Adult, ...] = ()
    nameless: int = 0  # adults named without an e-mail address

    @property
    def initial(self) -> str:
        """Return the first letter of the family name, large."""
        return next((letter for letter in self.family if letter.isalpha()), "").upper()


def read_lines(
    table: Table, columns: Sequence[str], one_class: str = ""
) -> tuple[list[Line], list[Problem]]:
    """Return what the rows of *table* say, and what is wrong with those that cannot be read.

    *columns*: the field that each column holds. *one_class*: whose class every row is of, where
    no column says so. Rows with nothing in the columns about children are passed over.
    """
    lines, problems = [], []
    if not fields.holds_children(columns):
        return lines, problems
    others = (fields.IGNORED, *fields.CLOSURE)
    chosen = [at for at, field in enumerate(columns) if field not in others]
    for row in table.rows:
        if not any(row.cell(at) for at in chosen):
            continue
        reader = RowReader(row, columns, one_class)
        line = reader.read()
        problems += reader.problems
        if line:
            lines.append(line)
    return lines, problems


class RowReader:
    """Reads one row, and gathers all that is wrong with it and not the first thing only."""

    def __init__(self, row: Row, columns: Sequence[str], one_class: str) -> None:
        self.row, self.columns, self.one_class = row, columns, one_class
        self.problems: list[Problem] = []

    def read(self) -> Line | None:
        """Return the line, or None with the problems kept."""
        first, family = self.name()
        class_name = self.one_class or self.text(fields.CLASS)
        if not first:
            self.complain(_("the child's first name is missing. Fill it in."), fields.FIRST)
        elif len(first) > LONGEST_FIRST_NAME:
            self.complain(_("the first name has more than 40 letters."), fields.FIRST)
        if not class_name:
            self.complain(_("the class is missing. Fill it in, or delete the row."), fields.CLASS)
        elif len(class_name) > LONGEST_CLASS:
            self.complain(_("the class has more than 40 letters."), fields.CLASS)
        born, adults, nameless = self.born(), *self.adults()
        if self.problems:
            return None
        return Line(
            row=self.row.number,
            first=first,
            family=family,
            class_name=class_name,
            number=self.text(fields.NUMBER),
            born=born,
            address=plain_address(self.text(fields.ADDRESS)),
            adults=adults,
            nameless=nameless,
        )

    def cells(self, field: str) -> list[tuple[int, str]]:
        """Return column and text of the cells that hold *field*, the empty ones left out."""
        places = (at for at, each in enumerate(self.columns) if each == field)
        return [(at, self.row.cell(at)) for at in places if self.row.cell(at)]

    def text(self, field: str) -> str:
        """Return all that the row says of *field*, in the order of the columns."""
        return " ".join(cell for _at, cell in self.cells(field))

    def complain(self, words: str, field: str = "", column: int | None = None) -> None:
        """Keep a problem with this row; *field* or *column* says where."""
        if column is None and field in self.columns:
            column = self.columns.index(field)
        where = letters(column) if column is not None else ""
        self.problems.append(Problem(self.row.number, words, where))

    def name(self) -> tuple[str, str]:
        """Return first and family name, from columns of their own or from the whole name."""
        whole_first, whole_family = split_name(self.text(fields.WHOLE))
        first = self.text(fields.FIRST) or whole_first
        return spelled(first), self.text(fields.FAMILY) or whole_family

    def born(self) -> dt.date | None:
        """Return the date of birth, if there is one and it can be read."""
        for column, cell in self.cells(fields.BORN):
            try:
                return read_date(cell)
            except CellError as error:
                self.complain(str(error), column=column)
        return None

    def adults(self) -> tuple[tuple[Adult, ...], int]:
        """Return the adults who have an address to invite, and how many are named without one."""
        found: dict[str, Adult] = {}
        nameless = 0
        for number in fields.ADULTS:
            home = plain_address(self.text(fields.adult(number, "address")))
            emails = self.emails(fields.adult(number, "email"))
            found |= {email: Adult(email, home) for email in emails if email not in found}
            nameless += bool(not emails and self.text(fields.adult(number, "name")))
        return tuple(found.values()), nameless

    def emails(self, field: str) -> list[str]:
        """Return the addresses in the cells of *field*; one cell may hold several."""
        found = []
        for column, cell in self.cells(field):
            parts = [part.strip("<>()\"'").lower() for part in re.split(r"[;,\s]+", cell)]
            emails = [each for each in parts if each and each not in ("n/a", "none", "-")]
            if all(is_email(each) for each in emails):
                found += emails
            else:
                words = _("“%(cell)s” is not an e-mail address.") % {"cell": cell}
                self.complain(words, "", column)
        return found


def split_name(whole: str) -> tuple[str, str]:
    """Return first and family name of a whole one: "Khan, Aisha Noor" or "Aisha Noor Khan"."""
    family, comma, given = whole.partition(",")
    if comma:
        return given.split()[0] if given.split() else "", family.strip()
    words = whole.split()
    return (words[0], words[-1]) if len(words) > 1 else (whole, "")


def spelled(name: str) -> str:
    """Return *name* as it is written, where a list has it in capitals or small letters alone."""
    return name.title() if name.isupper() or name.islower() else name


def plain_address(address: str) -> str:
    """Return *address* as it is compared: small letters and digits, nothing else."""
    return "".join(letter for letter in address.casefold() if letter.isalnum())


def read_date(text: str) -> dt.date:
    """Read a date with the day first (3/9/2021) or the year first (2021-09-03).

    Years of two digits are of this century. Raises CellError.
    """
    if found := YEAR_FIRST.fullmatch(text):
        year, month, day = (int(part) for part in found.groups())
    elif found := DAY_FIRST.fullmatch(text):
        day, month, year = (int(part) for part in found.groups())
        year += 2000 if year < 100 else 0
    else:
        raise CellError(_("“%(cell)s” is not a date such as 3/9/2021.") % {"cell": text})
    try:
        return dt.date(year, month, day)
    except ValueError as error:
        words = _("“%(cell)s” is not a date: the day comes first, as in 25/9/2021.")
        raise CellError(words % {"cell": text}) from error


def is_email(text: str) -> bool:
    """Whether *text* has the form of an address."""
    try:
        validate_email(text)
    except ValidationError:
        return False
    return True
