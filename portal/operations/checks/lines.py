"""What a look-over finds."""

import enum
from dataclasses import dataclass


class Level(enum.StrEnum):
    """How a thing is, from well to worst."""

    OK = "ok"
    LOOK = "look"
    BAD = "bad"


@dataclass(frozen=True)
class Line:
    """One thing that was looked at: how it is, what it is about, and a sentence or two."""

    level: Level
    about: str
    words: str


def ok(about: str, words: str) -> Line:
    """Return the line of what is well."""
    return Line(Level.OK, about, words)


def look(about: str, words: str) -> Line:
    """Return the line of what somebody should look at, or what could not be checked."""
    return Line(Level.LOOK, about, words)


def bad(about: str, words: str) -> Line:
    """Return the line of what must be mended."""
    return Line(Level.BAD, about, words)


def judged(age: float, about: str, words: str, *, look_at: float, bad_at: float) -> Line:
    """Return the line of something whose *age* in seconds says how it is."""
    level = Level.BAD if age > bad_at else Level.LOOK if age > look_at else Level.OK
    return Line(level, about, words)


def in_words(seconds: float) -> str:
    """Return a span of time as people say it: '3 hours', '12 days'.

    >>> in_words(59), in_words(150), in_words(10_800), in_words(1_000_000)
    ('59 seconds', '2 minutes', '3 hours', '11 days')
    """
    for size, unit in ((86_400, "days"), (3_600, "hours"), (60, "minutes")):
        if seconds >= 2 * size:
            return f"{int(seconds // size)} {unit}"
    return f"{int(seconds)} seconds"
