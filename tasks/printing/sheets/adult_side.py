"""What an adult needs of a day on one side: what to say, what right looks like, and the slip."""

import re
from collections.abc import Callable, Iterator, Sequence
from functools import partial
from typing import NamedTuple

from django.utils.translation import gettext as _

from tasks.cards.languages import quoted_here
from tasks.cards.safety import ALWAYS
from tasks.printing.layout.headings import name_line, run_head
from tasks.printing.layout.letters import loses_letters
from tasks.printing.layout.pages import BODY, Pages, tall
from tasks.printing.layout.strokes import (
    SQUARE,
    code_side,
    cut_line,
    frame,
    scissors,
    square_code,
    squared,
)
from tasks.printing.sheets.child_side import Numbered, prompts_of
from tasks.printing.values import Day, Pack, Part

SENTENCE = re.compile(r"(?<=[.!?؟])\s+")
TITLE = 15.0  # points
SIZES = (11.0, 10.5, 10.0, 9.5, 9.0, 8.5, 8.0)  # of the words: the largest that fit
DAYS_A_SIDE = 2  # of a week, in words as small as that takes
CODE = 20.0
ACROSS, BETWEEN = 2, 6.0  # columns of prompts, and millimetres between
MOST_ANSWER = 0.5  # of a column
BOX, STEP = 8.0, 15.0  # millimetres, of an adult's numerals; from box to box, its number between
NOTE_ROWS = 2


class Block(NamedTuple):
    """Something to be printed at the cursor that a page does not part: its height, and how."""

    height: float
    draw: Callable[[], None]


def adult_side(pages: Pages, pack: Pack, day: Day) -> None:
    """Print for the adult the one side of *day*, its slip to tear off at the foot."""
    run_head(pages, pack, f"{day.title} · {_('For the adult: what right looks like')}")
    pages.add()
    slip = _slip_height(pages, day)
    _fit(pages, [day], pages.room - slip)
    pages.need(slip)
    pages.y = pages.bottom - slip
    _slip(pages, pack, day)


def adult_week(pages: Pages, pack: Pack) -> None:
    """Print for the adult the days of *pack* one after the other.

    There is no slip: what is handed in of a week on paper is the child's sides.
    """
    run_head(pages, pack, _("For the adult: what right looks like"))
    pages.add()
    sides = -(-len(pack.days) // DAYS_A_SIDE)
    # A block that goes over the foot of a page leaves the height of a few lines.
    _fit(pages, pack.days, pages.room * sides - 15 * (sides - 1))


def _fit(pages: Pages, days: Sequence[Day], room: float) -> None:
    """Print *days* in the largest words with which they go into *room* millimetres."""
    for size in SIZES:
        told: set[str] = set()
        blocks = [block for day in days for block in _blocks(pages, day, size, told)]
        if sum(block.height for block in blocks) <= room:
            break
    for block in blocks:
        pages.need(block.height)
        block.draw()


def _blocks(pages: Pages, day: Day, size: float, told: set[str]) -> Iterator[Block]:
    """Yield what the adult reads of *day* at *size* points; what was *told* is not said again."""
    title = f"{day.title}. {day.focus}" if day.focus else day.title
    yield _words(pages, title, size + 2, bold=True)
    if any(map(loses_letters, (day.focus, day.note, *(part.words for part in day.parts)))):
        text = _("Some words are in letters that cannot be printed here. The screen has them.")
        yield _words(pages, text, size, bold=True)
    if day.note:
        yield _words(pages, f"{_('From your teacher')}: {day.note}", size)
    if fetch := _not_told([part.fetch for part in day.parts], set()):
        yield _words(pages, f"{_('From the kitchen')}: {'; '.join(fetch)}", size)
    cautions = " ".join(text for part in day.parts for text in part.cautions)
    if safety := _not_told([*SENTENCE.split(cautions), str(ALWAYS)], told):
        yield _words(pages, " ".join(safety), size, bold=True, gap=1.5)
    prompts = iter(prompts_of(day))
    for part in day.parts:
        yield from _part(pages, part, [next(prompts) for _line in part.lines], size, told)


def _part(
    pages: Pages, part: Part, prompts: Sequence[Numbered], size: float, told: set[str]
) -> Iterator[Block]:
    """Yield the words of one part, and its prompts with their answers, two beside each other."""
    said = [part.words]
    said += [f"{_('What to say')}: {quoted_here(part.say)}"] if part.say else []
    shown = [f"{_('What to show')}: {part.show}"] if part.show else []
    yield _words(pages, part.title, size + 1, bold=True, gap=0)
    if words := _not_told([*said, part.right, *shown], told):
        yield _words(pages, " ".join(words), size, gap=0.5)
    answers = [pages.measure(_right(each), size, bold=True) for each in prompts]
    answer = min(max(answers, default=0) + 2, _column(pages) * MOST_ANSWER)
    for start in range(0, len(prompts), ACROSS):
        beside = prompts[start : start + ACROSS]
        row = [_answer_lines(pages, each, answer, size) for each in beside]
        height = max(len(lines) for columns in row for lines in columns) * tall(size) + 0.8
        yield Block(height, partial(_draw_row, pages, row, answer, size, height))
    yield Block(1.5, partial(_go_on, pages, 1.5))


def _column(pages: Pages) -> float:
    return (pages.width - BETWEEN) / ACROSS


def _right(prompt: Numbered) -> str:
    """Return a prompt as it reads with its right answer."""
    line = prompt.line
    is_whole = all(each.strip() in line.answer for each in line.sentence.split("□"))
    return f"{prompt.place}.  {line.answer if is_whole else f'{line.sentence}: {line.answer}'}"


def _answer_lines(
    pages: Pages, prompt: Numbered, answer: float, size: float
) -> tuple[list[str], list[str]]:
    """Break a prompt with its answer, *answer* wide, and what is said into lines."""
    said = quoted_here(prompt.line.spoken) if prompt.line.spoken else ""
    return (
        pages.wrap(_right(prompt), answer if said else _column(pages), size, bold=True),
        pages.wrap(said, _column(pages) - answer - 2, size),
    )


def _draw_row(
    pages: Pages,
    row: Sequence[tuple[list[str], list[str]]],
    answer: float,
    size: float,
    height: float,
) -> None:
    for at, (right, said) in enumerate(row):
        x = pages.left + at * (_column(pages) + BETWEEN)
        pages.lines(x, pages.y, right, size, bold=True)
        pages.lines(x + answer + 2, pages.y, said, size)
    pages.y += height


def _words(pages: Pages, text: str, size: float, *, bold: bool = False, gap: float = 1.0) -> Block:
    """Lay *text* out over the full width."""
    lines = pages.wrap(text, pages.width, size, bold)

    def draw() -> None:
        pages.y = pages.lines(pages.left, pages.y, lines, size, bold) + gap

    return Block(len(lines) * tall(size) + gap, draw)


def _go_on(pages: Pages, height: float) -> None:
    pages.y += height


def _not_told(texts: Sequence[str], told: set[str]) -> list[str]:
    """Return each of *texts* once that was not *told* yet, and note it as told."""
    new = [text for text in dict.fromkeys(texts) if text and text not in told]
    told.update(new)
    return new


def _slip_height(pages: Pages, day: Day) -> float:
    words = tall(TITLE) + 2 * tall(BODY - 1) + tall(11) + 5
    beside = max(words, code_side(day.address, CODE) - 4)
    boxes = -(-len(prompts_of(day)) // _a_row(pages)) * (BOX + 2)
    return 6 + beside + boxes + tall(BODY) + 0.5 + NOTE_ROWS * SQUARE


def _slip(pages: Pages, pack: Pack, day: Day) -> None:
    """Print the slip: a box for each answer, room for a word, and where it is sent."""
    cut_line(pages, pages.left + 12, pages.y + 2, pages.right, pages.y + 2)
    scissors(pages, pages.left, pages.y - 1)
    pages.y += 6
    top, side = pages.y, code_side(day.address, CODE)
    square_code(pages, day.address, pages.right - side + 3, top - 3, side)
    pages.text(pages.left, pages.y, _("Answers"), TITLE, bold=True)
    pages.y += tall(TITLE)
    how = _(
        "Write what your child said, right or not. Then photograph this slip, or type the "
        "answers: scan the code."
    )
    words = pages.wrap(how, pages.width - side - 4, BODY - 1)
    pages.y = pages.lines(pages.left, pages.y, words, BODY - 1) + 1
    name_line(pages, pack)
    pages.y = max(pages.y, top + side - 4)
    _boxes(pages, len(prompts_of(day)), _a_row(pages))
    pages.text(pages.left, pages.y, _("What you noticed, or want to ask"), BODY, bold=True)
    pages.y += tall(BODY) + 0.5
    squared(pages, pages.left, pages.y, int(pages.width / SQUARE), NOTE_ROWS)
    pages.y += NOTE_ROWS * SQUARE


def _a_row(pages: Pages) -> int:
    """Return how many boxes stand beside each other on the slip."""
    return int((pages.width + STEP - BOX - 5.5) / STEP)


def _boxes(pages: Pages, count: int, a_row: int) -> None:
    """Print a numbered box for each prompt."""
    for at in range(count):
        x = pages.left + at % a_row * STEP
        y = pages.y + at // a_row * (BOX + 2)
        pages.text(x, y + 2, str(at + 1), BODY, bold=True)
        frame(pages, x + 5.5, y, BOX, BOX)
    pages.y += -(-count // a_row) * (BOX + 2)
