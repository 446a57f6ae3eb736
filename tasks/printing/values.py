"""What is printed, as plain values: prompts, words and addresses."""

import datetime as dt
from dataclasses import dataclass

from tasks.numberwork.pictures import Picture
from tasks.printing.paper import A4, Paper


@dataclass(frozen=True, slots=True)
class Line:
    """One prompt: as written, as said if that differs, its choices, its right answer in words.

    boxes: how many boxes to write in stand for one □ of the sentence, 1 or more.
    """

    sentence: str
    spoken: str
    answer: str
    choices: tuple[str, ...] = ()
    boxes: int = 1
    picture: Picture | None = None


@dataclass(frozen=True, slots=True)
class Part:
    """One part of a day, with its prompts and its words to the adult.

    room: whether each prompt gets squared paper to work on. together: nothing is answered.
    more: it comes after what is enough for the day. show: the one thing to show of it.
    """

    title: str
    words: str
    fetch: str
    say: str
    right: str
    cautions: tuple[str, ...]
    lines: tuple[Line, ...]
    room: bool = False
    together: bool = False
    more: bool = False
    show: str = ""


@dataclass(frozen=True, slots=True)
class Day:
    """What one reader is set for one day.

    title: the date in words. note: the teacher's word to families.
    number: the number of the day, 0 to 20, or None. address: where its work is sent.
    """

    date: dt.date
    title: str
    focus: str
    note: str
    parts: tuple[Part, ...]
    address: str
    number: int | None = None


@dataclass(frozen=True, slots=True)
class Pack:
    """Everything for one reader: the days, whose it is, and a first name if asked for."""

    days: tuple[Day, ...]
    who: str
    name: str = ""


@dataclass(frozen=True, slots=True)
class Order:
    """What to print: packs, names of SHEETS, the paper, and how far number cards go (10 or 20).

    dated: the day the file says it was made on, so that equal orders give equal files.
    """

    packs: tuple[Pack, ...]
    sheets: frozenset[str]
    dated: dt.date
    paper: Paper = A4
    up_to: int = 10
