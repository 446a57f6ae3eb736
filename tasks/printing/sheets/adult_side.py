"""What an adult needs of a day on one side: what to say, what right looks like, and the slip."""

import re
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from functools import partial
from typing import NamedTuple

from django.utils.translation import gettext as _

from tasks.cards.languages import quoted_here
from tasks.cards.safety import ALWAYS
from tasks.printing.layout.headings import name_line, run_head
from tasks.printing.layout.letters import loses_letters
from tasks.printing.layout.pages import BODY, Pages, tall
from tasks.printing.layout.runs import Lines, Run, height_of, lay_runs, write_runs
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
from tasks.printing.values import Day, Line, Pack, Part

SENTENCE = re.compile(r"(?<=[.!?؟])\s+")
TITLE = 15.0  # points
SIZES = (11.0, 10.5, 10.0, 9.5, 9.0)  # of the words: the largest that fit
DAYS_A_SIDE = 2  # of a week, in words as small as that takes
CODE = 20.0
ACROSS, BETWEEN = 2, 6.0  # columns of prompts, and millimetres between
BELOW = 1.5  # millimetres after a part
BOX, STEP = 8.0, 15.0  # millimetres, of an adult's numerals; from box to box, its number between
NOTE_ROWS = (2, 1)  # on the slip: the fewer, the more room for the words above
SHORT = 14  # letters of a sentence that is read out with its answer


class Look(NamedTuple):
    """How the words stand: in letters of *size* points; prompts in columns or all *in_line*."""

    size: float
    in_line: bool = False


LOOKS = (*(Look(size) for size in SIZES), Look(SIZES[-1], in_line=True))


class Block(NamedTuple):
    """Something to be printed at the cursor that a page does not part: its height, and how."""

    height: float
    draw: Callable[[], None]


def adult_side(pages: Pages, pack: Pack, day: Day) -> None:
    """Print for the adult the one side of *day*, its slip to tear off at the foot."""
    run_head(pages, pack, f"{day.title} · {_('For the adult: what right looks like')}")
    pages.add()
    slips = {rows: _slip_height(pages, day, rows) for rows in NOTE_ROWS}
    taken = _fit(pages, [day], [pages.room - slip for slip in slips.values()])
    rows = NOTE_ROWS[taken]
    pages.need(slips[rows])
    pages.y = pages.bottom - slips[rows]
    _slip(pages, pack, day, rows)


def adult_week(pages: Pages, pack: Pack) -> None:
    """Print for the adult the days of *pack* one after the other.

    There is no slip: what is handed in of a week on paper is the child's sides.
    """
    run_head(pages, pack, _("For the adult: what right looks like"))
    pages.add()
    sides = -(-len(pack.days) // DAYS_A_SIDE)
    # A block that goes over the foot of a page leaves the height of a few lines.
    _fit(pages, pack.days, [pages.room * sides - 15 * (sides - 1)])


def _fit(pages: Pages, days: Sequence[Day], rooms: Sequence[float]) -> int:
    """Print *days* in the largest words that go into one of *rooms*, and return into which.

    *rooms*: in millimetres, from the smallest. The last is taken where nothing goes in.
    """
    for look in LOOKS:
        told: set[str] = set()
        blocks = [block for day in days for block in _blocks(pages, day, look, told)]
        height = sum(block.height for block in blocks)
        taken = next((at for at, room in enumerate(rooms) if height <= room), None)
        if taken is not None:
            break
    for block in blocks:
        pages.need(block.height)
        block.draw()
    return len(rooms) - 1 if taken is None else taken


def _blocks(pages: Pages, day: Day, look: Look, told: set[str]) -> Iterator[Block]:
    """Yield what the adult reads of *day*; what was *told* is not said again."""
    size = look.size
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
        yield from _part(pages, part, [next(prompts) for _line in part.lines], look, told)


def _part(
    pages: Pages, part: Part, prompts: Sequence[Numbered], look: Look, told: set[str]
) -> Iterator[Block]:
    """Yield the words of one part, and its prompts with their answers, two beside each other.

    What is said alike of several prompts is there once, with all their answers.
    """
    size, said = look.size, [part.words]
    said += [f"{_('What to say')}: {quoted_here(part.say)}"] if part.say else []
    shown = [f"{_('What to show')}: {part.show}"] if part.show else []
    words = " ".join(_not_told([*said, part.right, *shown], told))
    yield _runs(pages, [Run(f"{part.title}:" if words else part.title, True), Run(words)], size)
    alike = Counter(each.line.spoken for each in prompts if each.line.spoken)
    for spoken, count in alike.items():
        if count > 1:
            same = [each for each in prompts if each.line.spoken == spoken]
            answers = [run for each in same for run in _numbered(each)]
            yield _runs(pages, [Run(quoted_here(spoken)), *answers], size)
    single = [each for each in prompts if alike[each.line.spoken] <= 1]
    if look.in_line and single:
        yield _runs(pages, [run for each in single for run in _asked(each)], size)
        single = []
    for start in range(0, len(single), ACROSS):
        row = [_laid(pages, each, size) for each in single[start : start + ACROSS]]
        height = max(height_of(lines, size) for lines in row) + 0.5
        yield Block(height, partial(_draw_row, pages, row, size, height))
    yield Block(BELOW, partial(_go_on, pages, BELOW))


def _column(pages: Pages) -> float:
    return (pages.width - BETWEEN) / ACROSS


def _laid(pages: Pages, prompt: Numbered, size: float) -> Lines:
    """Lay a prompt out in a column."""
    return lay_runs(pages, _asked(prompt), _column(pages), size)


def _asked(prompt: Numbered) -> list[Run]:
    """Return a prompt: its answer, and how it is said."""
    said = quoted_here(prompt.line.spoken) if prompt.line.spoken else ""
    return [*_numbered(prompt), Run(said)]


def _numbered(prompt: Numbered) -> list[Run]:
    """Return the number of a prompt and its right answer."""
    return [Run(f"{prompt.place}.", True, apart=True), Run(_right(prompt.line), True)]


def _right(line: Line) -> str:
    """Return a prompt as it reads with its right answer, or the answer if it is said beside."""
    is_whole = all(each.strip() in line.answer for each in line.sentence.split("□"))
    if not line.answer or not is_whole:
        return f"{line.sentence}: {line.answer}".removesuffix(": ")
    return _alone(line) if line.spoken and len(line.sentence) > SHORT else line.answer


def _alone(line: Line) -> str:
    """Return the right answer without the words of the sentence, which also has each other way."""
    before, box, after = line.sentence.partition("□")
    if not box or not line.answer.startswith(before) or not line.answer.endswith(after):
        return line.answer
    return line.answer.removesuffix(after).replace(before, "") if before else line.answer


def _draw_row(pages: Pages, row: Sequence[Lines], size: float, height: float) -> None:
    for at, lines in enumerate(row):
        x = pages.left + at * (_column(pages) + BETWEEN)
        write_runs(pages, x, pages.y, lines, size)
    pages.y += height


def _runs(pages: Pages, runs: Sequence[Run], size: float) -> Block:
    """Lay *runs* out over the full width."""
    lines = lay_runs(pages, runs, pages.width, size)
    height = height_of(lines, size) + 0.5
    return Block(height, partial(_draw_row, pages, [lines], size, height))


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


def _slip_height(pages: Pages, day: Day, note_rows: int) -> float:
    words = tall(TITLE) + 2 * tall(BODY - 1) + tall(11) + 5
    beside = max(words, code_side(day.address, CODE) - 4)
    boxes = -(-len(prompts_of(day)) // _a_row(pages)) * (BOX + 2)
    return 6 + beside + boxes + tall(BODY) + 0.5 + note_rows * SQUARE


def _slip(pages: Pages, pack: Pack, day: Day, note_rows: int) -> None:
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
    squared(pages, pages.left, pages.y, int(pages.width / SQUARE), note_rows)
    pages.y += note_rows * SQUARE


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
