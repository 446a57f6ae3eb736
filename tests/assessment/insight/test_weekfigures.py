"""The week summed up."""

from datetime import timedelta

from assessment.insight.rows import Help, How, Sent, Shown, Worked
from assessment.insight.weekfigures import Rows, WeekFigures, add_up, child_weeks, combine
from assessment.insight.weeks import Week

WEEK = Week(2025, 45)
MONDAY = WEEK.monday
MISTAKE = frozenset({"one out"})


def on(day):
    return MONDAY + timedelta(days=day)


def tag(goal, day, how=How.INDEPENDENTLY, child="Ada", **more):
    return Shown(child, goal, how, on(day), "halving", **more)


def work(day, found, child="Ada", kind="halving"):
    return Worked(child, on(day), kind, MISTAKE, MISTAKE if found else frozenset())


def week_of(rows=None, children=("Ada", "Bo"), **parts):
    every = {"set_days": {child: [on(0), on(1)] for child in children}, **parts}
    return child_weeks(children, WEEK, rows or Rows(**every))


def test_what_was_set_and_sent_is_counted_within_the_week():
    sent = [Sent("Ada", on(day)) for day in (-1, 0, 0, 2, 7)] + [Sent("nobody", on(0))]
    days = {"Ada": [on(-3), on(0), on(1), on(1), on(8)]}
    ada, bo = week_of(set_days=days, sent=sent)
    assert (ada.set_days, ada.sent_days, ada.pieces, ada.heard) == (2, 2, 3, True)
    assert (bo.set_days, bo.pieces, bo.heard) == (0, 0, False)


def test_goals_are_those_shown_in_the_week_in_any_way():
    ada, _ = week_of(
        shown=[
            tag("G1", 0, How.WITH_SUPPORT),
            tag("G2", 1, How.NOT_YET),
            tag("G3", -1),
            tag("G4", 7),
        ]
    )
    assert ada.goals == ("G1",)


def test_only_the_first_unaided_showing_is_new():
    ada, _ = week_of(
        shown=[
            tag("old", -5),
            tag("old", 1),
            tag("helped before", -5, How.WITH_SUPPORT),
            tag("helped before", 1),
            tag("together", 1, help_given=Help.TOGETHER),
            tag("new", 2),
            tag("new", 3),
        ]
    )
    assert ada.new == ("helped before", "new")


def test_mistakes_that_went_and_mistakes_that_stayed_are_told_apart():
    gone = [work(-4, True), work(0, False), work(1, False)]
    stayed = [work(-4, True, "Bo"), work(0, True, "Bo"), work(1, False, "Bo")]
    ada, bo = week_of(worked=gone + stayed)
    assert (ada.gone, ada.stayed) == (("halving/one out",), ())
    assert (bo.gone, bo.stayed) == ((), ("halving/one out",))


def test_a_mistake_that_went_in_an_earlier_week_is_not_told_again():
    rows = [work(-9, True), work(-8, False), work(-7, False), work(0, False)]
    assert week_of(worked=rows)[0].gone == ()


def test_kinds_of_work_are_named_once():
    rows = [work(0, False), work(1, False), work(2, False, kind="doubling"), work(-1, True)]
    assert week_of(worked=rows)[0].kinds == ("halving", "doubling")


def test_a_class_counts_children_for_each_goal_and_lists_the_silent():
    figures = add_up(
        week_of(
            sent=[Sent("Ada", on(0))],
            shown=[tag("G1", 0), tag("G1", 1, child="Bo"), tag("G2", 1, child="Bo")],
            worked=[work(0, True), work(1, True)],
        )
    )
    assert (figures.children, figures.heard, figures.set_days, figures.pieces) == (2, 1, 4, 1)
    assert figures.goals == {"G1": 2, "G2": 1}
    assert (figures.stayed, figures.gone) == ({"halving/one out": 1}, {})
    assert figures.not_heard == ("Bo",)


def test_a_child_for_whom_nothing_was_set_is_not_called_silent():
    assert add_up(week_of(set_days={})).not_heard == ()


def test_a_school_adds_its_classes_up_and_names_no_child():
    one = add_up(week_of(sent=[Sent("Ada", on(0))], shown=[tag("G1", 0)]))
    other = add_up(week_of(shown=[tag("G1", 0), tag("G2", 0)]))
    school = combine([one, other])
    assert (school.children, school.heard, school.set_days) == (4, 1, 8)
    assert school.goals == {"G1": 2, "G2": 1}
    assert school.not_heard == ()


def test_no_classes_add_up_to_nothing():
    assert combine([]) == add_up([]) == WeekFigures()
