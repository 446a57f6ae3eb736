"""Mistakes that keep coming and mistakes that have gone."""

from datetime import date, timedelta

import pytest

from assessment.insight.mistakes import Course, courses
from assessment.insight.rows import Mistake, Worked

START = date(2025, 11, 3)
NAME = "doubled"
MISTAKE = Mistake("halving", NAME)


def work(day, found, child="Ada"):
    return Worked(
        child,
        START + timedelta(days=day),
        "halving",
        frozenset({NAME}),
        frozenset({NAME}) if found else frozenset(),
    )


def course(*found):
    rows = [work(day, one) for day, one in enumerate(found)]
    return courses(rows, START + timedelta(days=30)).get("Ada", {}).get(MISTAKE)


@pytest.mark.parametrize(
    ("found", "expected"),
    [
        ((False, False), None),
        ((True,), Course.SEEN),
        ((False, False, True), Course.SEEN),
        ((True, False), Course.SEEN),
        ((True, True), Course.KEEPS_COMING),
        ((True, False, True), Course.KEEPS_COMING),
        ((True, True, False), Course.KEEPS_COMING),
        ((True, True, False, False), Course.GONE),
        ((True, False, False), Course.GONE),
        ((True, True, False, False, True), Course.SEEN),
    ],
)
def test_a_mistake_is_followed_through_the_work_that_could_show_it(found, expected):
    assert course(*found) == expected


def test_work_that_cannot_show_a_mistake_says_nothing_about_it():
    other = [Worked("Ada", START + timedelta(days=day), "subitising") for day in (2, 3, 4)]
    rows = [work(0, True), work(1, True), *other]
    assert courses(rows, START + timedelta(days=9))["Ada"][MISTAKE] == Course.KEEPS_COMING


def test_two_pieces_of_one_day_are_one_chance():
    assert courses([work(0, True), work(0, False), work(0, True)], START)["Ada"] == {
        MISTAKE: Course.SEEN
    }


def test_work_after_the_day_asked_about_is_left_out():
    assert courses([work(0, True), work(1, True)], START)["Ada"][MISTAKE] == Course.SEEN


def test_a_mistake_of_another_kind_is_another_mistake():
    day = START + timedelta(days=1)
    other = Worked("Ada", day, "halving-number-sentence", frozenset({NAME}), frozenset({NAME}))
    found = courses([work(0, True), other], day)["Ada"]
    assert found == {MISTAKE: Course.SEEN, Mistake(other.kind, NAME): Course.SEEN}


def test_a_mistake_is_written_and_read_with_its_kind():
    assert Mistake.read(str(MISTAKE)) == MISTAKE
    assert Mistake.read(NAME) == Mistake("", NAME)


def test_a_child_without_mistakes_is_not_listed():
    assert courses([work(0, False, child="Bo"), work(0, True)], START).keys() == {"Ada"}
