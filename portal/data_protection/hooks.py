"""What the apps tell data protection of themselves: tables and functions named in settings.

RETENTION  tables of `Kept`: what is kept, how long, and how it is deleted
EXPORTS   functions of a `Scope` that yield `Section`s and `CopyFile`s, for a copy to take along
SCHOOL_EXPORTS  functions of a `School` that yield `Section`s of what is no child's
ERASERS  functions of an `Erasing` that delete all there is of one child, the highest app first
CLOSERS  functions of a `School` that delete what is left of it once no child is, same order
"""

import datetime as dt
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import Any

from django.conf import settings
from django.db.models import QuerySet
from django.utils.functional import Promise
from django.utils.module_loading import import_string

from portal.people.models import Child, Home, School

Due = Callable[[School, dt.timedelta, dt.datetime], QuerySet[Any]]
Delete = Callable[[QuerySet[Any]], int]
Words = str | Promise


def last_day(school: School, length: dt.timedelta, now: dt.datetime) -> dt.date:
    """Return the day before which a thing of *school* must have ended to be due."""
    return (now - length).astimezone(school.zone).date()


def delete_rows(rows: QuerySet[Any]) -> int:
    """Delete *rows* with all that hangs on them; give how many of them there were."""
    return rows.delete()[1].get(rows.model._meta.label, 0)


@dataclass(frozen=True)
class Kept:
    """One kind of thing that is kept for a while: the screens show it, the purge obeys it.

    length: from the moment that *counted_from* tells.
    due: gives what has been kept that long; None where a job of its own sees to it all day.
    delete: deletes just that, and gives how many there were.
    least, most: what a school may choose; None where it has no choice.
    for_families: whether the families' page tells it too.
    """

    key: str
    what: Words
    counted_from: Words
    length: dt.timedelta
    due: Due | None = None
    delete: Delete = delete_rows
    least: dt.timedelta | None = None
    most: dt.timedelta | None = None
    for_families: bool = False

    @property
    def is_chosen(self) -> bool:
        """Whether the school says how long."""
        return self.most is not None


@dataclass(frozen=True)
class Scope:
    """What a copy is of: one child; of all homes, or of one and then only what that may know.

    to_be_handed_out: other children are taken out, their names from words, and pieces that show
    them; not so where the school moves its own records.
    """

    child: Child
    home: Home | None = None
    to_be_handed_out: bool = True


@dataclass(frozen=True)
class Section:
    """One kind of row in a copy: its rows are what JSON can hold, and their count is told."""

    name: str
    title: Words
    rows: list[dict[str, Any]]


@dataclass(frozen=True)
class CopyFile:
    """One file of a copy: where it lies in it, its SHA-256, and how its bytes are read."""

    path: str
    sha256: str
    size: int
    blocks: Callable[[], Iterator[bytes]]


@dataclass
class Erasing:
    """The erasing of one child: what was deleted, and which rows must not come back."""

    child: Child
    deleted: Counter[str] = field(default_factory=Counter)
    tombstones: list[tuple[str, int]] = field(default_factory=list)

    def delete(self, rows: QuerySet[Any]) -> None:
        """Delete *rows* with all that hangs on them, and count what that was."""
        self.deleted.update(rows.delete()[1])


def keeping() -> list[Kept]:
    """Return all that is kept for a while, in the order it is shown and purged."""
    return [kept for path in settings.RETENTION for kept in import_string(path)]


def copy_parts(scope: Scope) -> Iterator[Section | CopyFile]:
    """Yield all that the apps have of the child of *scope*."""
    for path in settings.EXPORTS:
        yield from import_string(path)(scope)


def school_parts(school: School) -> Iterator[Section]:
    """Yield what the apps have of *school* itself."""
    for path in settings.SCHOOL_EXPORTS:
        yield from import_string(path)(school)


def erase_parts(erasing: Erasing) -> None:
    """Have each app delete its part of the child."""
    for path in settings.ERASERS:
        import_string(path)(erasing)


def close_parts(school: School) -> None:
    """Have each app delete what it holds of *school*, which has no children left."""
    for path in settings.CLOSERS:
        import_string(path)(school)
