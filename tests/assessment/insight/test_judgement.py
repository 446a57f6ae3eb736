"""The evidence beside a judgement."""

from dataclasses import fields
from datetime import date

from assessment.insight.judgement import Beside, beside_judgement
from assessment.insight.rows import How, Shown
from assessment.insight.strength import strengths

DAY = date(2026, 6, 1)
CODES = ("N1", "N2", "N3")


def beside(rows):
    found = strengths(rows, ["Ada"], dict.fromkeys(CODES, ("halving",)), DAY)
    return beside_judgement("Ada", CODES, found)


def tag(goal, how, day):
    return Shown("Ada", goal, how, date(2026, 5, day), "halving")


def test_all_statements_of_the_goal_are_shown_with_what_there_is_on_each():
    found = beside(
        [
            tag("N1", How.INDEPENDENTLY, 4),
            tag("N1", How.NOT_YET, 6),
            tag("N2", How.NOT_YET, 5),
        ]
    )
    assert [code for code, _ in found.statements] == list(CODES)
    assert (found.count, found.unseen, found.mixed) == (3, ("N2", "N3"), ("N1",))
    assert (found.first_on, found.last_on) == (date(2026, 5, 4), date(2026, 5, 6))


def test_a_judgement_can_be_made_with_nothing_gathered():
    found = beside_judgement("Bo", CODES, {})
    assert (found.count, found.first_on, found.unseen) == (0, None, CODES)


def test_no_judgement_or_mark_is_proposed():
    names = {one.name for one in fields(Beside)}
    assert names == {"statements", "count", "first_on", "last_on", "unseen", "mixed"}
