"""What became of each day's work, and from whom nothing came though it could have."""

from datetime import date, timedelta

import pytest

from assessment.insight.rows import Sent
from assessment.insight.taking_part import (
    Part,
    WayIn,
    by_day,
    due_days,
    not_heard_from,
    parts_of,
)

MONDAY = date(2025, 11, 3)
LONG_AGO = WayIn(came_in=date(2025, 9, 1))
DAYS = [MONDAY + timedelta(days=day) for day in range(5)]
WEDNESDAY = DAYS[2]


def test_each_day_is_sent_could_not_on_paper_not_come_in_silent_or_not_over():
    ways = {
        "Ada": LONG_AGO,
        "Bo": WayIn(on_paper=True),
        "Cy": WayIn(),
        "Di": WayIn(came_in=DAYS[0]),
    }
    sent = [Sent("Ada", DAYS[0]), Sent("Bo", DAYS[1])]
    parts = parts_of(ways, DAYS[:3], sent, [Sent("Ada", DAYS[1])], today=WEDNESDAY)
    assert parts == {
        "Ada": (Part.SENT, Part.COULD_NOT, Part.OPEN),
        "Bo": (Part.ON_PAPER, Part.SENT, Part.ON_PAPER),
        "Cy": (Part.NOT_IN, Part.NOT_IN, Part.NOT_IN),
        "Di": (Part.NOT_IN, Part.SILENT, Part.OPEN),
    }
    assert by_day(parts.values(), 3)[1] == {
        Part.COULD_NOT: 1,
        Part.SENT: 1,
        Part.NOT_IN: 1,
        Part.SILENT: 1,
    }


def test_work_counts_more_than_a_word_that_it_could_not_be_done():
    both = [Sent("Ada", MONDAY)]
    assert parts_of({"Ada": LONG_AGO}, [MONDAY], both, both, WEDNESDAY) == {"Ada": (Part.SENT,)}


def test_a_home_counts_from_the_first_day_set_after_somebody_came_in():
    way = WayIn(came_in=DAYS[1])
    assert due_days(way, DAYS, today=DAYS[4]) == (DAYS[2], DAYS[3])
    assert due_days(WayIn(), DAYS, today=DAYS[4]) == ()


def test_a_child_is_listed_after_as_many_silent_days_as_asked_the_longest_first():
    last = {"Ada": DAYS[0], "Bo": date.min, "Cy": DAYS[2]}
    due = {child: due_days(LONG_AGO, DAYS, today=DAYS[4]) for child in last}
    assert not_heard_from(last, due, 3) == (("Bo", 4), ("Ada", 3))


def test_today_is_not_held_against_a_family_as_it_is_not_over():
    due = {"Ada": due_days(LONG_AGO, DAYS, today=DAYS[0])}
    assert not_heard_from({"Ada": date.min}, due, 1) == ()


def test_a_day_on_which_nothing_was_set_is_not_held_against_a_family():
    due = {"Ada": due_days(LONG_AGO, [DAYS[0], DAYS[3]], today=DAYS[4])}
    assert not_heard_from({"Ada": date.min}, due, 1) == (("Ada", 2),)


def test_a_count_below_one_is_refused():
    with pytest.raises(ValueError, match="1 or more"):
        not_heard_from({}, {}, 0)
