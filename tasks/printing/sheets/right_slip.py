"""What right looks like: the answers and what a good try is, for the adult alone."""

from django.utils.translation import gettext as _

from tasks.printing.layout.headings import run_head
from tasks.printing.layout.pages import BODY, Pages, tall
from tasks.printing.layout.strokes import PAD, frame, write_line
from tasks.printing.values import Day, Line, Pack, Part

TITLE = 20.0  # points
PART = 14.0
NUMBER, ANSWER = 8.0, 0.34  # millimetres for a number; the share of the width for an answer


def right_slip(pages: Pages, pack: Pack, day: Day) -> None:
    """Print the right answers of *day*, and what to do about others."""
    run_head(pages, pack, day.title)
    pages.add()
    pages.text(pages.left, pages.y, _("For the adult: what right looks like"), TITLE, bold=True)
    pages.y += tall(TITLE) + 1
    pages.say(f"{day.title}. {day.focus}" if day.focus else day.title, gap=2)
    for part in day.parts:
        if not part.together:
            _part(pages, part)
    _not_right_yet(pages)


def _part(pages: Pages, part: Part) -> None:
    """Print the answers of one part; its words stay with the first of them."""
    right = pages.wrap(part.right, pages.width, BODY)
    rows = [_columns(pages, line) for line in part.lines]
    pages.need(tall(PART) + len(right) * tall(BODY) + 4 + sum(map(_height, rows[:2])))
    pages.text(pages.left, pages.y, part.title, PART, bold=True)
    pages.y += tall(PART)
    pages.y = pages.lines(pages.left, pages.y, right, BODY) + 2
    for place, row in enumerate(rows, 1):
        pages.need(_height(row))
        _row(pages, place, row)
    pages.y += 4


def _columns(pages: Pages, line: Line) -> tuple[list[str], list[str]]:
    """Break the sentence and its answer into lines for their columns."""
    answer = pages.width * ANSWER
    room = pages.width - NUMBER - answer - PAD
    return (
        pages.wrap(line.sentence, room, BODY + 1),
        pages.wrap(line.answer, answer, BODY + 1, bold=True),
    )


def _height(row: tuple[list[str], list[str]]) -> float:
    return max(map(len, row)) * tall(BODY + 1) + 2


def _row(pages: Pages, place: int, row: tuple[list[str], list[str]]) -> None:
    """Print one prompt on the left and its answer on the right, with a fine line above."""
    sentence, answer = row
    write_line(pages, pages.left, pages.y, pages.width)
    top = pages.y + 0.8
    pages.text(pages.left, top, str(place), BODY, bold=True)
    pages.lines(pages.left + NUMBER, top, sentence, BODY + 1)
    pages.lines(pages.right - pages.width * ANSWER, top, answer, BODY + 1, bold=True)
    pages.y += _height(row)


def _not_right_yet(pages: Pages) -> None:
    """Say what to do when an answer is another one."""
    text = _(
        "Another answer? That is useful too. Ask “How did you work it out?”, do it once more with "
        "things to touch, and write down what your child said first. It tells the teacher what to "
        "set next."
    )
    lines = pages.wrap(text, pages.width - 2 * PAD, BODY)
    height = len(lines) * tall(BODY) + 2 * PAD - 1
    pages.need(height)
    frame(pages, pages.left, pages.y, pages.width, height)
    pages.lines(pages.left + PAD, pages.y + PAD, lines, BODY)
    pages.y += height
