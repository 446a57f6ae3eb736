"""Invented work to print, for timing and for looking at the sheets."""

import datetime as dt

from tasks.numberwork import Prompt, kind_kept, make_prompts
from tasks.printing.layout.pages import Pages
from tasks.printing.paper import A4, Paper
from tasks.printing.sheets import SHEETS, print_sheets
from tasks.printing.values import Day, Line, Order, Pack, Part

MONDAY = dt.date(2026, 11, 23)
ADDRESS = "https://portal.example.org/children/1/send/2026-11-23/"
PARTS = (
    ("Warm-up count", "counting-aloud-in-ones", 20, 1),
    ("Main task", "halving", 20, 5),
    ("Number of the day", "number-of-the-day-shown", 10, 1),
    ("Quick recall", "one-more", 20, 2),
    ("Try at home", "doubling", 10, 1),
)


def sample_line(prompt: Prompt) -> Line:
    """Return a prompt as it is printed, its answer as a plain word."""
    return Line(
        prompt.sentence,
        prompt.spoken,
        str(prompt.answer),
        prompt.choices,
        len(prompt.answer) if isinstance(prompt.answer, tuple) else 1,
        prompt.picture,
    )


def sample_day(seed: int, parts: tuple[tuple[str, str, int, int], ...] = PARTS) -> Day:
    """Return an invented day; parts are (title, kind, range, how many prompts)."""
    date = MONDAY + dt.timedelta(days=seed)
    return Day(
        date=date,
        title=f"{date:%A} {date.day} {date:%B} {date.year}",
        focus="Halving: two equal parts",
        note="",
        parts=tuple(_part(seed, *part) for part in parts),
        address=ADDRESS,
        number=5 + seed % 5,
    )


def _part(seed: int, title: str, kind_name: str, within: int, count: int) -> Part:
    kind = kind_kept(kind_name)
    prompts = make_prompts(kind_name, within, count, seed)
    return Part(
        title=title,
        words="Do these one at a time. Use things you can touch and move.",
        fetch=", or ".join(kind.fetch),
        say=kind.say,
        right=kind.right,
        cautions=tuple(each.order for each in kind.cautions),
        lines=tuple(map(sample_line, prompts)),
        room=title == "Main task",
    )


def bench_pdf(pages: int, paper: Paper = A4) -> bytes:
    """Print invented days with every kind of sheet until there are *pages* pages or more."""
    made, day = Pages(paper, "Number work", MONDAY), 0
    while made.count < pages:
        pack = Pack((sample_day(day),), "Robins")
        shared = frozenset(SHEETS) if day == 0 else frozenset(("cards", "mat", "answers", "right"))
        print_sheets(made, pack, Order((pack,), shared, MONDAY, paper))
        day += 1
    return made.finish()
