"""Groups for next week."""

from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assessment.insight.groups import make_groups
from assessment.insight.mistakes import Course
from assessment.insight.needs import Need, Reason, needs
from assessment.insight.rows import How, Mistake, Shown
from assessment.insight.strength import strengths

HALF = Need(Reason.MISTAKE, "doubled", "halving")
SWAP = Need(Reason.MISTAKE, "swapped", "adding")
COUNT = Need(Reason.GOAL, "G1")
BONDS = Need(Reason.SEE_MORE, "G2")


# The first goal is worked on in the kind that HALF is a mistake of.
KINDS = {"G1": ("halving", "doubling"), "G2": ("subitising",)}


def members(groups):
    return [(group.children, group.why) for group in groups]


def test_children_who_share_a_mistake_are_put_together_and_the_group_says_so():
    wanted = {"Ada": [HALF], "Bo": [SWAP], "Cy": [HALF], "Di": [SWAP]}
    assert members(make_groups(wanted, 4, KINDS)) == [(("Ada", "Cy"), HALF), (("Bo", "Di"), SWAP)]


def test_too_many_for_one_group_make_even_groups():
    groups = make_groups({child: [COUNT] for child in range(7)}, 6, KINDS)
    assert [group.children for group in groups] == [(0, 1, 2, 3), (4, 5, 6)]


def test_an_empty_chair_goes_to_a_child_who_needs_the_same_further_down():
    wanted = {"Ada": [HALF], "Bo": [HALF], "Cy": [SWAP, HALF], "Di": [COUNT]}
    assert members(make_groups(wanted, 3, KINDS))[0] == (("Ada", "Bo", "Cy"), HALF)


def test_something_hard_comes_before_something_to_see_more_of():
    wanted = {child: [BONDS] for child in range(8)} | {8: [HALF, BONDS], 9: [HALF, BONDS]}
    assert members(make_groups(wanted, 6, KINDS))[0] == ((8, 9), HALF)


def test_a_child_whose_need_nobody_shares_joins_those_with_one_in_common():
    wanted = {"Ada": [SWAP, BONDS], "Bo": [BONDS], "Cy": [BONDS]}
    assert members(make_groups(wanted, 6, KINDS)) == [(("Ada", "Bo", "Cy"), BONDS)]


def test_children_with_nothing_in_common_each_take_their_own_next_step_which_is_named():
    groups = make_groups({"Ada": [SWAP], "Bo": [HALF], "Cy": []}, 6, KINDS)
    assert members(groups) == [
        (("Ada", "Bo"), Need(Reason.OWN_STEPS)),
        (("Cy",), Need(Reason.GOING_ON)),
    ]
    assert groups[0].also == (("Ada", SWAP), ("Bo", HALF))


def test_a_need_of_one_child_alone_makes_a_group_of_one():
    groups = make_groups({"Ada": [SWAP], "Bo": [COUNT], "Cy": [COUNT]}, 6, KINDS)
    assert members(groups) == [(("Bo", "Cy"), COUNT), (("Ada",), SWAP)]


def test_a_need_of_one_child_alone_joins_a_group_about_the_same_work_and_both_are_named():
    (group,) = make_groups({"Ada": [HALF], "Bo": [COUNT], "Cy": [COUNT]}, 6, KINDS)
    assert (group.children, group.why) == (("Ada", "Bo", "Cy"), COUNT)
    assert group.also == (("Ada", HALF),)


def test_a_full_group_is_not_joined():
    groups = make_groups({"Ada": [HALF], "Bo": [COUNT], "Cy": [COUNT]}, 2, KINDS)
    assert members(groups) == [(("Bo", "Cy"), COUNT), (("Ada",), HALF)]


def test_a_mistake_two_children_share_comes_before_a_goal_that_most_do():
    wanted = {child: [COUNT] for child in range(6)} | {6: [HALF, COUNT], 7: [HALF, COUNT]}
    assert members(make_groups(wanted, 6, KINDS))[0] == ((6, 7), HALF)


def test_a_group_of_one_cannot_be_asked_for():
    with pytest.raises(ValueError, match="2 or more"):
        make_groups({}, 1, KINDS)


def test_no_children_make_no_groups():
    assert make_groups({}, 6, KINDS) == ()


NEEDS = st.lists(st.sampled_from([HALF, SWAP, COUNT, BONDS]), unique=True, max_size=4)


@settings(deadline=None)
@given(st.lists(NEEDS, max_size=30), st.integers(2, 8))
def test_every_child_is_in_exactly_one_group_that_names_its_first_need(rows, size):
    wanted = dict(enumerate(rows))
    groups = make_groups(wanted, size, KINDS)
    assert sorted(child for group in groups for child in group.children) == list(wanted)
    for group in groups:
        assert 1 <= len(group.children) <= size
        named = dict(group.also)
        for child in group.children:
            first = wanted[child][0] if wanted[child] else None
            assert first is None or first == named.get(child, group.why)
    assert groups == make_groups(wanted, size, KINDS)


@settings(deadline=None)
@given(st.lists(NEEDS, max_size=30), st.integers(2, 8))
def test_a_child_is_only_sent_on_when_nothing_is_open(rows, size):
    for group in make_groups(dict(enumerate(rows)), size, KINDS):
        if group.why.reason == Reason.GOING_ON:
            assert all(not rows[child] for child in group.children)


DAY = date(2025, 11, 3)
BOTH = ("halving", "doubling")


def needs_of(rows, goals, courses=None, later=0, now=None):
    """Return Ada's needs some days *later*; the weeks' work is about all goals, or those *now*."""
    today = DAY + timedelta(days=later)
    found = strengths(rows, ["Ada"], dict.fromkeys(goals, BOTH), today)
    return needs(["Ada"], found, {"Ada": courses or {}}, now or goals, today)["Ada"]


def shown(goal, how, later=0):
    return Shown("Ada", goal, how, DAY + timedelta(days=later), "halving")


def test_needs_begin_with_what_keeps_coming_and_end_with_what_was_never_tried():
    rows = [
        shown("first", How.INDEPENDENTLY),
        shown("helped", How.WITH_SUPPORT),
        shown("tried", How.NOT_YET),
        shown("mixed", How.INDEPENDENTLY),
        shown("mixed", How.NOT_YET),
    ]
    going = {"one out": Course.SEEN, "swapped": Course.KEEPS_COMING, "old": Course.GONE}
    courses = {Mistake("adding", name): course for name, course in going.items()}
    assert needs_of(rows, ["never", "first", "helped", "tried", "mixed"], courses) == (
        Need(Reason.MISTAKE, "swapped", "adding"),
        Need(Reason.GOAL, "mixed"),
        Need(Reason.GOAL, "tried"),
        Need(Reason.GOAL, "helped"),
        Need(Reason.SEE_MORE, "first"),
        Need(Reason.SEE_MORE, "never"),
    )


def test_a_goal_well_shown_is_no_need():
    rows = [shown("G1", How.NEW_SITUATION, later) for later in (0, 1, 2)]
    assert needs_of(rows, ["G1"], later=3) == ()


def test_a_goal_the_weeks_work_is_not_about_is_no_need():
    rows = [shown("G1", How.NOT_YET), shown("G2", How.NOT_YET)]
    assert needs_of(rows, ["G1", "G2"], now=["G2"]) == (Need(Reason.GOAL, "G2"),)


def test_of_two_goals_that_are_hard_the_one_seen_lately_comes_first():
    rows = [shown("old", How.NOT_YET), shown("new", How.WITH_SUPPORT, 20)]
    assert needs_of(rows, ["old", "new"], later=21) == (
        Need(Reason.GOAL, "new"),
        Need(Reason.GOAL, "old"),
    )


def test_what_was_hard_half_a_term_ago_is_only_to_be_seen_again():
    rows = [shown("G1", How.NOT_YET)]
    assert needs_of(rows, ["G1"], later=41) == (Need(Reason.GOAL, "G1"),)
    assert needs_of(rows, ["G1"], later=42) == (Need(Reason.SEE_MORE, "G1"),)
