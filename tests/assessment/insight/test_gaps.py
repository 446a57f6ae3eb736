"""What is missing, and the work that would give it."""

from datetime import date, timedelta

from assessment.insight.gaps import gaps, goal_gaps, suggest_kinds
from assessment.insight.rows import How, Shown
from assessment.insight.strength import Missing, strength, strengths

START = date(2025, 11, 3)
KINDS = ("halving", "doubling", "sharing-equally", "odd-or-even")
GOALS = {"G1": KINDS, "G2": ("subitising",), "G3": ()}


def tag(how=How.INDEPENDENTLY, day=0, kind="halving", child="Ada", goal="G1"):
    return Shown(child, goal, how, START + timedelta(days=day), kind)


def suggested(*rows, later=7):
    return suggest_kinds(strength(rows, START + timedelta(days=later), KINDS), KINDS)


WELL = (tag(day=0), tag(day=1), tag(day=2, kind="doubling"))


def test_where_nothing_is_known_the_most_direct_work_comes_first():
    assert suggested() == ("halving", "doubling", "sharing-equally")


def test_where_nothing_is_missing_no_work_is_asked_for():
    assert suggested(*WELL) == ()


def test_what_was_shown_in_one_kind_only_is_looked_for_in_another():
    assert suggested(tag(), tag(day=1), tag(day=2))[0] == "doubling"


def test_what_is_mixed_is_set_again_in_the_kind_it_went_wrong_in():
    assert suggested(*WELL, tag(How.NOT_YET, 3, "odd-or-even"))[0] == "odd-or-even"


def test_what_was_seen_longest_ago_comes_back_first():
    rows = (tag(day=0, kind="sharing-equally"), tag(day=1), tag(day=2))
    assert suggested(*rows, later=90)[0] == "sharing-equally"


def test_work_the_goal_does_not_name_is_never_suggested():
    assert "subitising" not in suggested(*WELL, tag(How.NOT_YET, 3, "subitising"))


def test_a_goal_that_no_work_at_home_can_show_is_no_gap():
    found = strengths(WELL, ["Ada"], GOALS, START + timedelta(days=7))
    assert [(gap.child, gap.goal, gap.kinds) for gap in gaps(found, GOALS)] == [
        ("Ada", "G2", ("subitising",))
    ]


def test_a_gap_says_what_is_missing():
    found = strengths([tag()], ["Ada"], {"G1": KINDS}, START)
    gap = gaps(found, GOALS)[0]
    assert (gap.found.days, gap.found.missing) == (1, (Missing.DAYS, Missing.VARIETY))


def test_across_a_class_the_work_that_helps_most_children_comes_first():
    rows = [*WELL, tag(child="Bo"), tag(child="Cy", kind="doubling")]
    found = strengths(rows, ["Ada", "Bo", "Cy"], GOALS, START + timedelta(days=7))
    first, second, _ = goal_gaps(found, GOALS, {("Ada", "G1"), ("Bo", "G2")})
    assert (first.children, first.have_shown, first.never_asked) == (3, ("Ada", "Bo", "Cy"), ())
    assert (second.have_shown, second.never_asked) == ((), ("Ada", "Cy"))
    assert first.open_for == ("Bo", "Cy")
    assert first.kinds[0] == ("sharing-equally", 2)
    assert second.open_for == ("Ada", "Bo", "Cy")
    assert second.kinds == (("subitising", 3),)


def test_where_nothing_was_missing_half_a_term_ago_is_no_gap():
    found = strengths(WELL, ["Ada"], {"G1": KINDS}, START + timedelta(days=90))
    assert found["Ada", "G1"].missing == (Missing.LATELY,)
    assert gaps(found, {"G1": KINDS}) == ()
    assert goal_gaps(found, {"G1": KINDS}, set())[0].open_for == ()
