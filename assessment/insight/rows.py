"""The plain rows the rest of this package reckons from."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from typing import NamedTuple, Self

# A child, by whatever key the caller uses; one sort in one call.
Child = int | str


class How(StrEnum):
    """How a goal was shown in one piece of work."""

    NOT_YET = "not yet"
    WITH_SUPPORT = "with support"
    INDEPENDENTLY = "independently"
    NEW_SITUATION = "in a new situation"


class Help(StrEnum):
    """How much help the family says it gave."""

    NOT_SAID = ""
    ALONE = "alone"
    A_LITTLE = "a little"
    TOGETHER = "together"


class Role(StrEnum):
    """Who looked."""

    TEACHER = "teacher"
    ASSISTANT = "assistant"
    LEAD = "lead"


@dataclass(frozen=True, slots=True)
class Shown:
    """One tag: a child, a goal, how it was shown, the day and kind of the work.

    how, help_given and by_role may be given as their text; ValueError for another word.
    """

    child: Child
    goal: str
    how: str
    on: date
    kind: str
    help_given: str = Help.NOT_SAID
    by_role: str = Role.TEACHER

    def __post_init__(self) -> None:
        How(self.how), Help(self.help_given), Role(self.by_role)

    @property
    def unaided(self) -> bool:
        """Say whether it was shown independently and not, by the family's word, together."""
        shown_alone = self.how in (How.INDEPENDENTLY, How.NEW_SITUATION)
        return shown_alone and self.help_given != Help.TOGETHER


class Mistake(NamedTuple):
    """A mistake of one kind of work; that of another kind is another, whatever its name."""

    kind: str
    name: str

    def __str__(self) -> str:
        return f"{self.kind}/{self.name}"

    @classmethod
    def read(cls, text: str) -> Self:
        """Read a mistake as `str` writes it; one written without its kind has none."""
        kind, _, name = text.rpartition("/")
        return cls(kind, name)


@dataclass(frozen=True, slots=True)
class Worked:
    """One piece of work of one kind: the mistakes its prompts can show, and those found."""

    child: Child
    on: date
    kind: str
    could_show: frozenset[str] = frozenset()
    found: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Sent:
    """One submission: the child and the day it came, in the school's own time zone."""

    child: Child
    on: date
