"""What a sequence sets for a day goes on the two sides of one sheet, whatever its focus."""

import random
import re
from itertools import combinations
from typing import NamedTuple

import pytest
from django.utils import translation
from django.utils.translation import gettext

from tasks.numberwork import KINDS
from tasks.printing import A4, LETTER, Pack, Paper, make_pdf
from tasks.printing.layout.pages import POINT, Pages
from tasks.printing.paper import MARGIN
from tasks.printing.sample import MONDAY
from tasks.printing.sheets.adult_side import SIZES, adult_side
from tasks.printing.sheets.child_side import SIZES as SIZES_OF_CHILD
from tasks.printing.sheets.child_side import child_side, prompts_of
from tests.tasks.printing.builders import order
from tests.tasks.printing.planned import planned_days
from tests.tasks.printing.reading import page_words

# Those with the largest pictures, the longest sentences, or the most to say on safety.
HARDEST = (
    *("can-it-be-halved", "comparing", "count-out", "estimate-and-count", "halves-of-shapes"),
    *("matching", "number-stories", "ordering", "ordinals", "repeating-patterns"),
    *("still-the-same", "story-problems"),
)
OTHERS = random.Random(20).sample(sorted({*KINDS} - {*HARDEST}), 6)
SLACK = 0.3  # millimetres


class Noting(Pages):
    """Pages that note where there are letters and pictures, in millimetres."""

    def __init__(self, paper: Paper) -> None:
        super().__init__(paper, "", MONDAY)
        self.inked: list[Inked] = []
        self.draw, self.pdf.image = self.pdf.image, self.image

    def text(self, x: float, y: float, text: str, size: float, bold: bool = False) -> None:
        """Note the letters down to their line, and write them."""
        high, wide = size * POINT, self.measure(text, size, bold)
        self.inked.append(Inked(self.count, text, x, y + high * 0.2, x + wide, y + high * 0.95))
        super().text(x, y, text, size, bold)

    def image(self, file: object, x: float, y: float, width: float, height: float) -> None:
        """Note the picture, and draw it."""
        self.inked.append(Inked(self.count, "(picture)", x, y, x + width, y + height))
        self.draw(file, x, y, width, height)


class Inked(NamedTuple):
    """What is at a place of a page, from left and top to right and bottom."""

    page: int
    what: str
    left: float
    top: float
    right: float
    bottom: float

    def covers(self, other: "Inked") -> bool:
        """Tell whether both are on one page in one place."""
        return (
            self.page == other.page
            and min(self.right, other.right) - max(self.left, other.left) > SLACK
            and min(self.bottom, other.bottom) - max(self.top, other.top) > SLACK
        )


def too_long(focus: str, seed: int) -> list[tuple[int, str, int, int]]:
    """Return the planned days on *focus* that are not a side for the child and one for an adult."""
    found = []
    for paper in (A4, LETTER):
        for place, day in enumerate(planned_days(focus, seed)):
            pages, pack = Pages(paper, "", MONDAY), Pack((day,), "Robins")
            child_side(pages, pack, day)
            child = pages.count
            adult_side(pages, pack, day)
            if (child, pages.count) != (1, 2):
                found.append((place, paper.name, child, pages.count))
    return found


@pytest.mark.parametrize("focus", (*HARDEST, *OTHERS))
def test_a_planned_day_is_two_sides_of_one_sheet(focus: str):
    assert too_long(focus, seed=1) == []


@pytest.mark.parametrize("paper", [A4, LETTER], ids=lambda paper: paper.name)
@pytest.mark.parametrize("focus", HARDEST)
def test_nothing_is_printed_over_something_else_or_over_the_margin(focus: str, paper: Paper):
    pages = Noting(paper)
    for day in planned_days(focus, seed=1):
        child_side(pages, Pack((day,), "Robins"), day)
        adult_side(pages, Pack((day,), "Robins"), day)

    assert [two for two in combinations(pages.inked, 2) if two[0].covers(two[1])] == []
    assert min(each.left for each in pages.inked) >= pages.left - SLACK
    assert max(each.right for each in pages.inked) <= pages.right + SLACK
    assert max(each.bottom for each in pages.inked) <= paper.height - MARGIN


@pytest.mark.parametrize(
    ("language", "focus"),
    [("uk", "repeating-patterns"), ("ar", "ordering"), ("pl", "can-it-be-halved")],
)
def test_a_day_in_longer_words_is_two_sides_as_well(language: str, focus: str):
    with translation.override(language):
        assert too_long(focus, seed=1) == []


def test_a_child_is_told_that_the_rest_is_on_the_screen_and_an_adult_can_ask_it():
    with translation.override("uk"):
        day = list(planned_days("repeating-patterns", seed=1))[-1]
        made = order("two-sides", days=(day,), paper=LETTER)
        child, adult = page_words(make_pdf(made))
        said = gettext("The rest is on the screen.")

    assert said in child
    for numbered in prompts_of(day):
        assert re.search(rf"\b{numbered.place}\. ", adult)


def test_a_day_that_fits_leaves_nothing_out():
    for day in planned_days("repeating-patterns", seed=1):
        child, _adult = page_words(make_pdf(order("two-sides", days=(day,), paper=LETTER)))

        assert "The rest is on the screen." not in child
        assert child.count("How much help?") == 1


@pytest.mark.proof
@pytest.mark.parametrize("focus", KINDS)
@pytest.mark.parametrize("seed", [2, 3, 4])
def test_every_planned_day_is_two_sides_of_one_sheet(focus: str, seed: int):
    assert too_long(focus, seed) == []


def test_an_adult_reads_nine_points_or_more_and_a_child_eleven():
    assert min(SIZES) >= 9
    assert min(min(size.letters, size.choice) for size in SIZES_OF_CHILD) >= 11
    assert min(size.counter for size in SIZES_OF_CHILD) >= 3
