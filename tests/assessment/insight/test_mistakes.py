"""Mistakes that keep coming and mistakes that have gone."""

from datetime import date, timedelta

import pytest

from assessment.insight.mistakes import Course, courses
from assessment.insight.rows import Worked

START = date(2025, 11, 3)
MISTAKE = "doubled instead of halving"


def work(day, found, child="Ada"):
    return Worked(
        child,
        START + timedelta(days=day),
        "halving",
        frozenset({MISTAKE}),
        frozenset({MISTAKE}) if found else frozenset(),
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


def test_a_child_without_mistakes_is_not_listed():
    assert courses([work(0, False, child="Bo"), work(0, True)], START).keys() == {"Ada"}
