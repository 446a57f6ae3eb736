"""What the evidence of one goal amounts to."""

from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assessment.insight.rows import Help, How, Role, Shown
from assessment.insight.strength import Missing, Seen, strength, strengths

MONDAY = date(2025, 11, 3)
KINDS = ("halving", "doubling", "sharing-equally")


def tag(how=How.INDEPENDENTLY, day=0, kind="halving", child="Ada", goal="G1", **more):
    return Shown(child, goal, how, MONDAY + timedelta(days=day), kind, **more)


def weigh(*rows, later=7, kinds=KINDS):
    return strength(rows, MONDAY + timedelta(days=later), kinds)


WELL = (tag(day=0), tag(day=1), tag(day=2, kind="doubling"))


def test_without_any_work_nothing_is_claimed():
    found = weigh()
    assert (found.count, found.last_on, found.missing) == (0, None, (Missing.ANY,))


def test_work_that_did_not_show_the_goal_is_told_apart_from_no_work():
    found = weigh(tag(How.NOT_YET))
    assert (found.count, found.days, found.missing) == (1, 0, (Missing.ANY,))


@pytest.mark.parametrize("how", [How.WITH_SUPPORT, How.INDEPENDENTLY, How.NEW_SITUATION])
def test_a_day_counts_once_however_often_it_was_shown_that_day(how):
    found = weigh(tag(how), tag(how), tag(how))
    assert (found.count, found.days) == (3, 1)


def test_the_last_three_times_are_kept_the_oldest_first():
    found = weigh(tag(), tag(How.WITH_SUPPORT, 1), tag(How.NOT_YET, 2), tag(day=3))
    days = [MONDAY + timedelta(days=day) for day in (1, 2, 3)]
    hows = (How.WITH_SUPPORT, How.NOT_YET, How.INDEPENDENTLY)
    assert found.latest == tuple(map(Seen, days, hows))
    assert found.last_on == days[-1]


def test_unaided_on_three_days_in_two_kinds_of_work_nothing_is_missing():
    found = weigh(*WELL)
    assert (found.is_open, found.missing) == (False, ())


@pytest.mark.parametrize("gone", range(3))
def test_after_two_days_a_third_is_missing(gone):
    rows = [row for place, row in enumerate(WELL) if place != gone]
    assert Missing.DAYS in weigh(*rows).missing


def test_one_kind_of_work_is_not_enough_where_others_could_show_it():
    found = weigh(tag(), tag(day=1), tag(day=2))
    assert (found.is_open, found.missing) == (True, (Missing.VARIETY,))


def test_a_new_situation_stands_for_a_second_kind():
    assert weigh(tag(), tag(day=1), tag(How.NEW_SITUATION, 2)).missing == ()


def test_a_goal_only_one_kind_can_show_needs_no_second():
    assert weigh(tag(), tag(day=1), tag(day=2), kinds=("halving",)).missing == ()


def test_any_amount_of_work_with_support_leaves_the_same_without_help_missing():
    rows = [tag(How.WITH_SUPPORT, day, kind) for day, kind in enumerate(KINDS * 3)]
    found = weigh(*rows, later=20)
    assert found.is_open
    assert Missing.UNAIDED in found.missing


def test_what_the_family_did_together_does_not_count_as_unaided():
    found = weigh(
        *(tag(day=day, kind=kind, help_given=Help.TOGETHER) for day, kind in enumerate(KINDS))
    )
    assert (found.is_open, found.unaided_days, found.independently) == (True, 0, 3)


def test_a_slip_after_it_was_shown_is_held_against_it_by_its_kind():
    found = weigh(*WELL, tag(How.NOT_YET, 3, "sharing-equally"))
    assert (found.is_open, found.against) == (True, ("sharing-equally",))
    assert found.missing == (Missing.SETTLING,)


@pytest.mark.parametrize("order", [(0, 1), (1, 0)])
def test_a_slip_on_the_very_day_it_was_shown_is_held_against_it(order):
    day = (tag(), tag(How.NOT_YET))
    assert weigh(*(day[place] for place in order)).against


def test_a_slip_before_it_could_be_done_is_not_held_against_it():
    rows = [row for row in WELL if row.on > MONDAY]
    assert weigh(tag(How.NOT_YET), *rows, tag(day=3)).missing == ()


def test_a_slip_is_settled_by_three_later_pieces_of_work():
    slip = tag(How.NOT_YET, 3)
    after = [tag(day=4), tag(day=5), tag(day=6)]
    assert weigh(*WELL, slip, *after[:2]).against
    assert weigh(*WELL, slip, *after).missing == ()


@pytest.mark.parametrize(("later", "missing"), [(44, ()), (45, (Missing.LATELY,))])
def test_after_six_weeks_only_something_newer_is_missing(later, missing):
    found = weigh(*WELL, later=later)
    assert (found.is_open, found.missing) == (False, missing)


def test_the_counts_say_what_there_is():
    found = weigh(
        tag(How.NOT_YET, 0),
        tag(How.WITH_SUPPORT, 1),
        tag(How.INDEPENDENTLY, 2, by_role=Role.ASSISTANT),
        tag(How.NEW_SITUATION, 2, "doubling"),
    )
    counts = (found.not_yet, found.with_support, found.independently, found.in_a_new_situation)
    assert counts == (1, 1, 1, 1)
    assert (found.count, found.days, found.unaided_days, found.by_assistant) == (4, 2, 1, 1)
    assert (found.first_on, found.last_on) == (MONDAY, MONDAY + timedelta(days=2))
    assert found.kinds == ("halving", "doubling")


def test_tags_after_the_day_asked_about_are_left_out():
    assert weigh(*WELL, later=1).count == 2


@pytest.mark.parametrize(
    "wrong", [{"how": "brilliantly"}, {"help_given": "lots"}, {"by_role": "robot"}]
)
def test_a_word_outside_the_vocabulary_is_refused(wrong):
    with pytest.raises(ValueError, match="is not a valid"):
        tag(**wrong)


def test_every_child_is_weighed_on_every_goal_and_strangers_are_passed_over():
    rows = [tag(), tag(child="Bo", goal="G2"), tag(child="nobody"), tag(goal="none")]
    found = strengths(rows, ["Ada", "Bo"], {"G1": KINDS, "G2": KINDS}, MONDAY)
    assert {key: one.count for key, one in found.items()} == {
        ("Ada", "G1"): 1,
        ("Ada", "G2"): 0,
        ("Bo", "G1"): 0,
        ("Bo", "G2"): 1,
    }


TAGS = st.lists(
    st.builds(
        tag,
        st.sampled_from(How),
        st.integers(0, 60),
        st.sampled_from(KINDS),
        help_given=st.sampled_from(Help),
    ),
    max_size=12,
)


@settings(deadline=None)
@given(TAGS, st.randoms())
def test_nothing_hangs_on_the_order_rows_arrive_in_on_different_days(rows, chance):
    one_a_day = list({row.on: row for row in rows}.values())
    shuffled = chance.sample(one_a_day, len(one_a_day))
    assert weigh(*shuffled, later=61) == weigh(*one_a_day, later=61)


@settings(deadline=None)
@given(TAGS)
def test_something_stays_missing_without_three_unaided_days(rows):
    found = weigh(*rows, later=61)
    if not found.is_open:
        assert len({row.on for row in rows if row.unaided}) >= 3
    assert (found.last_on is None) == (not rows)
