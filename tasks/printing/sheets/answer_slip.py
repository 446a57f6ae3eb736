"""The answer slip: every prompt with a box, how much help was given, and room for a note."""

from django.utils.translation import gettext as _

from tasks.printing.layout.headings import day_heading, name_line, run_head
from tasks.printing.layout.pages import BODY, Pages, tall
from tasks.printing.layout.sentences import BOX, GAP
from tasks.printing.layout.strokes import SQUARE, frame, squared
from tasks.printing.values import Day, Line, Pack, Part

SIZE = 13.0  # points
TITLE = 14.0
TICK = 5.0  # millimetres
NOTE_ROWS, MOST_NOTE_ROWS = 3, 8
LEAST_BOX = 26.0
INDENT = 8.0
BESIDE = 10.0  # between two columns


def answer_slip(pages: Pages, pack: Pack, day: Day) -> None:
    """Print the slip of *day* for an adult to fill in."""
    run_head(pages, pack, day.title)
    pages.add()
    how = _(
        "Write what your child said, right or not. Then photograph this slip, or type the "
        "answers: scan the code."
    )
    day_heading(pages, _("Answers"), day.title, day.address, how)
    name_line(pages, pack)
    for part in day.parts:
        if not part.together:
            _part(pages, part)
    pages.need(_below_height())
    _help(pages)
    _note(pages)


def _part(pages: Pages, part: Part) -> None:
    """Print the prompts of one part, short ones side by side; its title stays with them."""
    columns = 2 if all(_is_short(pages, line) for line in part.lines) else 1
    width = (pages.width - (columns - 1) * BESIDE) / columns
    rows = [_sentence(pages, line, width) for line in part.lines]
    pages.need(tall(TITLE) + 1 + max(map(_row_height, rows[:columns]), default=0))
    pages.text(pages.left, pages.y, part.title, TITLE, bold=True)
    pages.y += tall(TITLE) + 1
    for start in range(0, len(rows), columns):
        height = max(map(_row_height, rows[start : start + columns]))
        pages.need(height)
        for place in range(start, min(start + columns, len(rows))):
            x = pages.left + (place - start) * (width + BESIDE)
            _row(pages, x, width, place + 1, part.lines[place], rows[place], height)
        pages.y += height
    pages.y += 3


def _is_short(pages: Pages, line: Line) -> bool:
    """Tell whether the prompt goes on one line of half the width."""
    width = (pages.width - BESIDE) / 2
    return pages.measure(line.sentence, SIZE) <= width - _box_width(line) - INDENT - GAP


def _box_width(line: Line) -> float:
    """Return the room for an answer: wider when it is several numbers."""
    return max(LEAST_BOX, line.boxes * (BOX + GAP))


def _sentence(pages: Pages, line: Line, width: float) -> list[str]:
    return pages.wrap(line.sentence, width - _box_width(line) - INDENT - GAP, SIZE)


def _row_height(lines: list[str]) -> float:
    return max(BOX, len(lines) * tall(SIZE)) + GAP


def _row(
    pages: Pages, x: float, width: float, place: int, line: Line, lines: list[str], height: float
) -> None:
    """Print one prompt with its number on the left and its box on the right."""
    y = pages.y + (height - GAP - len(lines) * tall(SIZE)) / 2
    pages.text(x, y, str(place), SIZE, bold=True)
    pages.lines(x + INDENT, y, lines, SIZE)
    wide = _box_width(line)
    top = pages.y + (height - GAP - BOX) / 2
    frame(pages, x + width - wide, top, wide, BOX)


def _help(pages: Pages) -> None:
    """Print what may be ticked for how much help was given."""
    question = _("How much help?")
    pages.text(pages.left, pages.y, question, TITLE, bold=True)
    x = pages.left + pages.measure(question, TITLE, bold=True) + 8
    for words in (_("all alone"), _("with a little help"), _("we did it together")):
        frame(pages, x, pages.y, TICK, TICK)
        pages.text(x + TICK + 2, pages.y, words, BODY)
        x += TICK + 2 + pages.measure(words, BODY) + 8
    pages.y += tall(TITLE) + 4


def _note(pages: Pages) -> None:
    """Print squared paper for a note."""
    pages.text(pages.left, pages.y, _("What you noticed, or want to ask"), TITLE, bold=True)
    pages.y += tall(TITLE) + 1
    rows = min(MOST_NOTE_ROWS, max(NOTE_ROWS, int(pages.room / SQUARE)))
    squared(pages, pages.left, pages.y, int(pages.width / SQUARE), rows)
    pages.y += rows * SQUARE


def _below_height() -> float:
    """Return the height of what stands below the prompts."""
    return 2 * tall(TITLE) + 5 + NOTE_ROWS * SQUARE
