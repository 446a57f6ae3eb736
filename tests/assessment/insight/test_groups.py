"""Groups for next week."""

from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assessment.insight.groups import make_groups
from assessment.insight.mistakes import Course
from assessment.insight.needs import Need, Reason, needs
from assessment.insight.rows import How, Shown
from assessment.insight.strength import strengths

HALF = Need(Reason.MISTAKE, "doubled instead of halving")
SWAP = Need(Reason.MISTAKE, "swapped the digits")
COUNT = Need(Reason.GOAL, "G1")
BONDS = Need(Reason.SEE_MORE, "G2")


def members(groups):
    return [(group.children, group.why) for group in groups]


def test_children_who_share_a_mistake_are_put_together_and_the_group_says_so():
    wanted = {"Ada": [HALF], "Bo": [SWAP], "Cy": [HALF], "Di": [SWAP]}
    assert members(make_groups(wanted, 4)) == [(("Ada", "Cy"), HALF), (("Bo", "Di"), SWAP)]


def test_too_many_for_one_group_make_even_groups():
    groups = make_groups({child: [COUNT] for child in range(7)}, 6)
    assert [group.children for group in groups] == [(0, 1, 2, 3), (4, 5, 6)]


def test_an_empty_chair_goes_to_a_child_who_needs_the_same_further_down():
    wanted = {"Ada": [HALF], "Bo": [HALF], "Cy": [SWAP, HALF], "Di": [COUNT]}
    assert members(make_groups(wanted, 3))[0] == (("Ada", "Bo", "Cy"), HALF)


def test_something_hard_comes_before_something_to_see_more_of():
    wanted = {child: [BONDS] for child in range(8)} | {8: [HALF, BONDS], 9: [HALF, BONDS]}
    assert members(make_groups(wanted, 6))[0] == ((8, 9), HALF)


def test_a_child_whose_need_nobody_shares_joins_those_with_one_in_common():
    wanted = {"Ada": [SWAP, BONDS], "Bo": [BONDS], "Cy": [BONDS]}
    assert members(make_groups(wanted, 6)) == [(("Ada", "Bo", "Cy"), BONDS)]


def test_children_with_nothing_in_common_each_take_their_own_next_step():
    wanted = {"Ada": [SWAP], "Bo": [HALF], "Cy": []}
    assert members(make_groups(wanted, 6)) == [
        (("Ada", "Bo"), Need(Reason.OWN_STEPS)),
        (("Cy",), Need(Reason.GOING_ON)),
    ]


def test_a_group_of_one_cannot_be_asked_for():
    with pytest.raises(ValueError, match="2 or more"):
        make_groups({}, 1)


def test_no_children_make_no_groups():
    assert make_groups({}, 6) == ()


NEEDS = st.lists(st.sampled_from([HALF, SWAP, COUNT, BONDS]), unique=True, max_size=4)


@settings(deadline=None)
@given(st.lists(NEEDS, max_size=30), st.integers(2, 8))
def test_every_child_is_in_exactly_one_group_for_a_need_of_its_own(rows, size):
    wanted = dict(enumerate(rows))
    groups = make_groups(wanted, size)
    assert sorted(child for group in groups for child in group.children) == list(wanted)
    for group in groups:
        assert 1 <= len(group.children) <= size
        if group.why.name:
            assert all(group.why in wanted[child] for child in group.children)
    assert groups == make_groups(wanted, size)


@settings(deadline=None)
@given(st.lists(NEEDS, max_size=30), st.integers(2, 8))
def test_a_child_is_only_sent_on_when_nothing_is_open(rows, size):
    for group in make_groups(dict(enumerate(rows)), size):
        if group.why.reason == Reason.GOING_ON:
            assert all(not rows[child] for child in group.children)


def test_needs_begin_with_what_keeps_coming_and_end_with_what_was_never_tried():
    day = date(2025, 11, 3)
    rows = [
        Shown("Ada", "first", How.INDEPENDENTLY, day, "halving"),
        Shown("Ada", "helped", How.WITH_SUPPORT, day, "halving"),
        Shown("Ada", "tried", How.NOT_YET, day, "halving"),
        Shown("Ada", "mixed", How.INDEPENDENTLY, day, "halving"),
        Shown("Ada", "mixed", How.NOT_YET, day, "halving"),
    ]
    goals = dict.fromkeys(["never", "first", "helped", "tried", "mixed"], ("halving", "doubling"))
    found = strengths(rows, ["Ada"], goals, day)
    seen = {"Ada": {"one out": Course.SEEN, "swapped": Course.KEEPS_COMING, "old": Course.GONE}}
    assert needs(["Ada", "Bo"], found, seen) == {
        "Ada": (
            Need(Reason.MISTAKE, "swapped"),
            Need(Reason.GOAL, "mixed"),
            Need(Reason.GOAL, "tried"),
            Need(Reason.GOAL, "helped"),
            Need(Reason.SEE_MORE, "first"),
            Need(Reason.SEE_MORE, "never"),
        ),
        "Bo": (),
    }


def test_a_goal_well_shown_is_no_need():
    rows = [
        Shown("Ada", "G1", How.NEW_SITUATION, date(2025, 11, day), "halving") for day in (3, 4, 5)
    ]
    found = strengths(rows, ["Ada"], {"G1": ("halving",)}, date(2025, 11, 6))
    assert needs(["Ada"], found, {}) == {"Ada": ()}
