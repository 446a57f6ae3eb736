"""Everyday things drawn simply, told apart by their outline and by solid and open parts."""

from typing import NamedTuple

from tasks.numberwork.pictures.ink import mark, moved


def _disc(x: float, y: float, radius: float) -> str:
    """Return the path data of a circle, in curves that can be moved."""
    k = radius * 0.5523
    r = radius
    return (
        f"M{x - r} {y}C{x - r} {y - k} {x - k} {y - r} {x} {y - r}"
        f"C{x + k} {y - r} {x + r} {y - k} {x + r} {y}C{x + r} {y + k} {x + k} {y + r} {x} {y + r}"
        f"C{x - k} {y + r} {x - r} {y + k} {x - r} {y}Z"
    )


class Thing(NamedTuple):
    """Path data of open strokes and of solid parts, in a square of 40 units."""

    strokes: str
    solid: str = ""
    many: str = ""


THINGS: dict[str, Thing] = {
    "spoon": Thing(
        "M19 2L21 2L21 22M19 2L19 22",
        "M20 21C25 21 27 25 27 29C27 34 24 38 20 38C16 38 13 34 13 29C13 25 15 21 20 21Z",
    ),
    "fork": Thing("M12 3L12 12C12 19 28 19 28 12L28 3M20 3L20 37"),
    "cup": Thing("M6 9L28 9L26 34L8 34ZM28 14C39 13 38 27 27 27"),
    "leaf": Thing(
        "M20 38L20 10M20 30L11 23M20 24L28 18M20 32C4 28 6 12 20 2C34 12 36 28 20 32", many="leaves"
    ),
    "button": Thing(_disc(20, 20, 17) + _disc(20, 20, 12), _disc(16, 20, 2.4) + _disc(24, 20, 2.4)),
    "sock": Thing(
        "M14 3L28 3L28 22C28 27 25 29 21 32C17 36 13 38 8 36C3 34 4 28 8 26L14 22Z",
        "M14 3L28 3L28 10L14 10Z",
    ),
    "apple": Thing(
        "M20 12C29 6 37 13 35 23C34 32 26 39 20 35C14 39 6 32 5 23C3 13 11 6 20 12ZM20 12L21 5",
        "M21 7C24 1 30 2 31 3C30 7 26 9 21 7Z",
    ),
    "box": Thing("M4 14L24 14L24 36L4 36ZM4 14L14 5L36 5L24 14M36 5L36 26L24 36", many="boxes"),
    "pebble": Thing("", "M6 26C3 18 11 9 20 9C31 9 39 17 36 26C34 34 9 35 6 26Z"),
    "key": Thing("M20 17L20 38M20 31L28 31M20 37L29 37" + _disc(20, 10, 7)),
    "pencil": Thing("M14 4L26 4L26 28L20 38L14 28ZM14 28L26 28M14 10L26 10", "M18 34L22 34L20 38Z"),
    "book": Thing(
        "M20 10C15 5 9 5 3 7L3 33C9 31 15 31 20 36C25 31 31 31 37 33"
        "L37 7C31 5 25 5 20 10ZM20 10L20 36"
    ),
}


def thing_marks(name: str, left: float, top: float, scale: float = 1.0) -> list[str]:
    """Draw a thing of THINGS in a square of 40 times *scale* units at left, top."""
    thing = THINGS[name]
    marks = []
    if thing.solid:
        data = moved(thing.solid, left, top, scale)
        marks.append(mark("path", d=data, fill="currentColor"))
    if thing.strokes:
        marks.append(mark("path", d=moved(thing.strokes, left, top, scale)))
    return marks


def things_named(name: str, number: int) -> str:
    """Say how many of a thing there are.

    >>> things_named("leaf", 3)
    '3 leaves'
    """
    return f"1 {name}" if number == 1 else f"{number} {THINGS[name].many or name + 's'}"


def check_thing(name: object) -> None:
    """Raise ValueError unless *name* is one of THINGS."""
    if name not in THINGS:
        raise ValueError(f"a thing must be one of {sorted(THINGS)}, not {name!r}")
