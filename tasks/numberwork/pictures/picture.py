"""What every picture of number is: a value that checks, describes and draws itself."""

from abc import ABC, abstractmethod
from typing import NamedTuple

from tasks.numberwork.pictures.ink import sheet


class Drawing(NamedTuple):
    """Marks on a sheet of width by height units."""

    width: float
    height: float
    marks: tuple[str, ...]


class Picture(ABC):
    """A picture of number. Subclasses are frozen dataclasses which refuse wrong values."""

    __slots__ = ()

    @property
    @abstractmethod
    def alt(self) -> str:
        """Describe the picture in one plain English sentence, saying no more than it shows."""

    @abstractmethod
    def draw(self) -> Drawing:
        """Lay the picture out."""

    def svg(self, title: str | None = None) -> str:
        """Return a complete standalone SVG image.

        title: the text alternative in another language; without it, `alt`.
        """
        width, height, marks = self.draw()
        return sheet(self.alt if title is None else title, width, height, marks)


def check_whole(name: str, value: object, low: int, high: int) -> None:
    """Raise ValueError, naming *name* and the value, unless it is a whole number low to high."""
    if type(value) is not int or not low <= value <= high:
        raise ValueError(f"{name} must be a whole number from {low} to {high}, not {value!r}")


def check_wholes(name: str, values: object, low: int, high: int) -> None:
    """Raise ValueError unless *values* is a tuple of different whole numbers, each low to high."""
    if not isinstance(values, tuple):
        raise ValueError(f"{name} must be a tuple, not {values!r}")
    for value in values:
        check_whole(f"each of {name}", value, low, high)
    if len(set(values)) < len(values):
        raise ValueError(f"{name} names a number twice: {values!r}")


def count_of(number: int, noun: str) -> str:
    """Say how many of a thing there are.

    >>> count_of(1, "dot"), count_of(0, "dot")
    ('1 dot', '0 dots')
    """
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"


def listed(words: list[str]) -> str:
    """Join words as a sentence does.

    >>> listed(["3", "4", "an empty box"])
    '3, 4 and an empty box'
    """
    return " and ".join([", ".join(words[:-1]), words[-1]]) if len(words) > 1 else "".join(words)
