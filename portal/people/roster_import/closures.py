"""Days without school in a roster file: name, first and last day, beside children or alone."""

import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from django.utils.translation import gettext as _

from portal.people.roster_import.files import fields
from portal.people.roster_import.files.table import Row, Table, letters
from portal.people.roster_import.lines import CellError, Problem, read_date
from portal.people.school.models import days_in_words

LONGEST_NAME = 60


@dataclass(frozen=True)
class FileClosure:
    """A day or a span without school, and whether the school has just this one already."""

    row: int
    name: str
    first: dt.date
    last: dt.date
    is_known: bool = False

    @property
    def days(self) -> str:
        """Say which days these are."""
        return days_in_words(self.first, self.last)


@dataclass(frozen=True)
class KnownClosures:
    """The school year that a file is for, and what is closed already: name, first and last day."""

    starts: dt.date
    ends: dt.date
    closed: tuple[tuple[str, dt.date, dt.date], ...] = ()


def read_closures(
    table: Table, columns: Sequence[str], known: KnownClosures | None
) -> tuple[list[FileClosure], list[Problem]]:
    """Return the days without school that *table* names, and what is wrong with others.

    known: None where the file is for no year yet; then none is read.
    """
    found: list[FileClosure] = []
    problems: list[Problem] = []
    if known is None or fields.CLOSED_FROM not in columns:
        return found, problems
    for row in table.rows:
        try:
            closure = read_row(row, columns)
            if closure and (closure.name, closure.first, closure.last) not in said(found):
                found.append(held_against(closure, known, found))
        except CellError as error:
            column = letters(columns.index(fields.CLOSED_FROM))
            problems.append(Problem(row.number, str(error), column))
    return found, problems


def read_row(row: Row, columns: Sequence[str]) -> FileClosure | None:
    """Return what one row says; None where it names no such day. Raises CellError."""
    name, first, last = (text_in(row, columns, field) for field in fields.CLOSURE)
    if not (name or first or last):
        return None
    if not name or not first:
        raise CellError(_("a day without school needs its name and its first day."))
    if len(name) > LONGEST_NAME:
        raise CellError(_("the name has more than 60 letters."))
    begins = read_date(first)
    return FileClosure(row.number, name, begins, read_date(last) if last else begins)


def text_in(row: Row, columns: Sequence[str], field: str) -> str:
    """Return the cell that holds *field*; "" where no column does."""
    return row.cell(columns.index(field)) if field in columns else ""


def held_against(
    closure: FileClosure, known: KnownClosures, before: Sequence[FileClosure]
) -> FileClosure:
    """Mark a closure that is known already. Raises CellError for one that cannot be."""
    if closure.last < closure.first:
        raise CellError(_("the last day without school is before the first."))
    if closure.first < known.starts or closure.last > known.ends:
        raise CellError(
            _("%(days)s is not within the school year chosen below.") % {"days": closure.days}
        )
    every = [*known.closed, *said(before)]
    for name, first, last in every:
        if (first, last) == (closure.first, closure.last):
            return FileClosure(closure.row, name, first, last, is_known=True)
        if first <= closure.last and last >= closure.first:
            words = _("some of these days are without school already: %(name)s, %(days)s.")
            raise CellError(words % {"name": name, "days": days_in_words(first, last)})
    return closure


def said(closures: Iterable[FileClosure]) -> list[tuple[str, dt.date, dt.date]]:
    """Return name, first and last day of each."""
    return [(each.name, each.first, each.last) for each in closures]
