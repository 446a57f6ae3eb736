"""Words in plain and in strong letters, one after the other in the same lines."""

from collections.abc import Sequence
from typing import NamedTuple

from tasks.printing.layout.letters import words_of
from tasks.printing.layout.pages import Pages, tall


class Run(NamedTuple):
    """Words in letters of one strength.

    apart: not read as one with what comes next, as 7. before 14 is not a run of numbers.
    """

    text: str
    bold: bool = False
    apart: bool = False


Lines = list[list[Run]]


def lay_runs(pages: Pages, runs: Sequence[Run], width: float, size: float) -> Lines:
    """Break *runs*, a space between two, into lines no wider than *width*."""
    lines: Lines = [[]]
    used, space = 0.0, pages.measure(" ", size)
    for word in (word for run in runs for word in _words(pages, run, width, size)):
        wide = pages.measure(word.text, size, word.bold)
        if lines[-1] and used + space + wide > width:
            lines.append([])
            used = 0.0
        used += wide + (space if lines[-1] else 0)
        lines[-1].append(word)
    return [_joined(line) for line in lines if line]


def _words(pages: Pages, run: Run, width: float, size: float) -> list[Run]:
    """Return the words of *run*; one wider than *width* is cut."""
    words: list[str] = []
    for word in (word for line in run.text.splitlines() for word in words_of(line) if word):
        is_cut = pages.measure(word, size, run.bold) > width
        words += pages.wrap(word, width, size, run.bold) if is_cut else [word]
    return [Run(word, run.bold, run.apart) for word in words]


def _joined(words: Sequence[Run]) -> list[Run]:
    """Return the words of a line with those of one strength as one run."""
    line: list[Run] = []
    for word in words:
        if line and line[-1].bold == word.bold and not line[-1].apart and not word.apart:
            line[-1] = Run(f"{line[-1].text} {word.text}", word.bold)
        else:
            line.append(word)
    return line


def height_of(lines: Lines, size: float) -> float:
    """Return the height of *lines* in millimetres."""
    return len(lines) * tall(size)


def write_runs(pages: Pages, x: float, y: float, lines: Lines, size: float) -> None:
    """Write *lines* one below the other from x, y."""
    space = pages.measure(" ", size)
    for line in lines:
        at = x
        for run in line:
            pages.text(at, y, run.text, size, run.bold)
            at += pages.measure(run.text, size, run.bold) + space
        y += tall(size)
