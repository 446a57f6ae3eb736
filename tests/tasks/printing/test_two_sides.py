"""A day on two sides of paper, and the week of a home without a phone on eight."""

import datetime as dt
import re

import pytest
from django.utils import translation

from tasks.numberwork import KINDS
from tasks.numberwork.pictures import Plates
from tasks.printing import A4, LETTER, make_pdf
from tasks.printing.layout.pages import Pages
from tasks.printing.layout.pictures import drawing_of
from tasks.printing.sample import PARTS, sample_day
from tasks.printing.sheets.child_side import SIZES, counter_radius, lay_out, prompts_of
from tests.square_codes import printed_codes
from tests.tasks.printing.builders import day as day_of
from tests.tasks.printing.builders import line, lines_of, order, part
from tests.tasks.printing.reading import page_words, sizes

# What a day has at most: a count, the number of the day, five of the main task, recall, at home.
DAY = (
    ("Warm-up count", "counting-on-in-ones", 20, 1),
    ("Number of the day", "number-of-the-day", 10, 1),
    ("Main task", "halving", 20, 5),
    ("Quick recall", "one-more", 20, 3),
    ("Try at home", "doubling", 10, 1),
)
PAPERS = pytest.mark.parametrize("paper", [A4, LETTER], ids=lambda paper: paper.name)


@PAPERS
@pytest.mark.parametrize("language", ["en-gb", "ar"])
def test_a_day_is_two_sides(paper, language):
    with translation.override(language):
        pdf = make_pdf(order("two-sides", days=(sample_day(0, DAY),), paper=paper))

    assert len(page_words(pdf)) == 2
    assert sizes(pdf) == {(paper.width, paper.height)}
    # The child's side and the slip each lead to where the work is sent.
    assert len(printed_codes(pdf)) == 2


def test_the_childs_side_asks_and_the_adults_answers():
    made = sample_day(0, DAY)

    child, adult = page_words(make_pdf(order("two-sides", days=(made,))))

    for each in made.parts:
        assert each.right in adult
        assert each.right not in child
    for numbered in prompts_of(made):
        assert re.search(rf"\b{numbered.place}\. ", adult)
    for said in ("First name", "How much help?"):
        assert said in child
    for said in ("For the adult", "Answers", "What you noticed", "What to say"):
        assert said in adult


def test_the_week_of_a_home_without_a_phone_is_eight_sides():
    week = tuple(sample_day(number, DAY) for number in range(5))

    pages = page_words(make_pdf(order("two-sides", days=week)))

    assert len(pages) <= 8
    assert [text.count("How much help?") for text in pages[:5]] == [1] * 5
    adult = " ".join(pages[5:])
    assert all(made.title in adult for made in week)
    # What is the same every day is said once.
    assert adult.count(week[0].parts[2].right) == 1


@PAPERS
def test_fifteen_prompts_of_an_older_day_take_no_more_sides_than_they_need(paper):
    parts = tuple((*each[:3], 3) for each in PARTS)

    pages = page_words(make_pdf(order("two-sides", days=(sample_day(0, parts),), paper=paper)))

    assert len(pages) <= 4
    assert all(len(text) > 100 for text in pages)


def test_counters_have_one_size_on_a_page():
    things = (
        *lines_of("halving", 20, 4),
        *lines_of("one-more", 20, 3),
        *lines_of("doubling", 10, 2),
    )
    made = day_of(part(*things, line("8 = □", picture=Plates((4, 4)))))
    pages = Pages(A4, "", dt.date(2026, 11, 23))

    across = {
        round(cell.picture[0] / drawing_of(cell.line.picture).width * 2 * radius, 3)
        for tried in lay_out(pages, prompts_of(made), SIZES[0])
        for cell in tried.values()
        if cell.picture and (radius := counter_radius(cell.line.picture))
    }

    assert len(across) == 1


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_stays_on_the_paper(kind):
    """Each prompt is laid out no wider than the page, at the largest and at the smallest."""
    within = KINDS[kind].ranges[-1]
    pages = Pages(A4, "", dt.date(2026, 11, 23))
    prompts = prompts_of(day_of(part(*lines_of(kind, within, 2))))

    for size in (SIZES[0], SIZES[-1]):
        for tried in lay_out(pages, prompts, size):
            assert 1.0 in tried  # of the width: there is always a way
            for cell in tried.values():
                assert cell.width <= pages.width + 0.01
                assert not cell.picture or cell.picture[0] <= cell.width
