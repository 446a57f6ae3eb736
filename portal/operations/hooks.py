"""What the apps tell operations of themselves: functions named in settings, so it knows no app."""

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass

from django.conf import settings
from django.utils.module_loading import import_string

from portal.operations.erasure_list import Erasure


@dataclass(frozen=True)
class StoredFile:
    """A file that a row speaks of: name below MEDIA_ROOT, SHA-256 in hexadecimal, bytes."""

    name: str
    sha256: str
    size: int


@dataclass(frozen=True)
class Figure:
    """A count or a number of seconds that says how the portal is; never anything of a person.

    name: lower case and underscores. limit: a value above it is bad, and then *advice* says what
    to do; None where no value is.
    """

    name: str
    words: str
    value: float
    labels: tuple[tuple[str, str], ...] = ()
    limit: float | None = None
    advice: str = ""

    @property
    def is_bad(self) -> bool:
        """Whether the value is above its limit."""
        return self.limit is not None and self.value > self.limit


@dataclass(frozen=True)
class Lack:
    """What this system lacks, in a sentence; is_grave: too much to serve real families on it."""

    words: str
    is_grave: bool = False


@dataclass(frozen=True)
class Restored:
    """What a backup was: when it was taken, and what has been erased or ended since."""

    taken_at: dt.datetime
    erasures: tuple[Erasure, ...] = ()

    def since(self) -> Iterator[Erasure]:
        """Yield what was erased or ended after the backup was taken."""
        return (each for each in self.erasures if each.at > self.taken_at)


def stored_files(using: str = "default") -> Iterator[StoredFile]:
    """Yield every file that a row of database *using* speaks of."""
    for path in settings.STORED_FILES:
        yield from import_string(path)(using)


def named_files(names: list[str]) -> Iterator[str]:
    """Yield those of *names* in the store that belong to an app which evidence does not know."""
    for path in settings.NAMED_FILES:
        yield from import_string(path)(names)


def whose_files(names: list[str]) -> Iterator[tuple[str, int, dt.date]]:
    """Yield for those of *names* that a row speaks of the key of the child, and the work's day."""
    for path in settings.WHOSE_FILES:
        yield from import_string(path)(names)


def app_figures() -> Iterator[Figure]:
    """Yield what the apps can say of their work."""
    for path in settings.METRICS:
        yield from import_string(path)()


def lacks() -> Iterator[Lack]:
    """Yield what the apps miss on this system. It is tried, so this takes part of a second."""
    for path in settings.LACKS:
        yield from import_string(path)()


def after_restore(restored: Restored) -> Iterator[str]:
    """Put right what a restored database must not do again; yield a sentence for each."""
    for path in settings.POST_RESTORE:
        yield from import_string(path)(restored)
