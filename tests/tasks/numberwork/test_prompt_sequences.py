"""Drafted weeks: small steps, returning kinds, nothing asked again too soon."""

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tasks.numberwork import DEPTHS, KINDS, ROUTES, how_many, plan_sequence
from tasks.numberwork.pool import pool_of
from tasks.numberwork.sequences.drafting import WINDOW
from tasks.numberwork.sequences.returning import GAPS, Returning
from tasks.numberwork.sequences.routes import Step
from tasks.numberwork.sequences.sequence import RANGES, WARM_UPS

PARTS = ["warm_up", "number_of_the_day", "quick_recall", "main_task", "try_at_home"]
DRAFTS = st.tuples(
    st.sampled_from(sorted(ROUTES)),
    st.integers(5, 15),
    st.sampled_from(RANGES),
    st.integers(0, 2**32),
)


@given(DRAFTS)
@settings(max_examples=40, deadline=None)
def test_every_day_has_its_five_parts_and_all_can_be_asked(arguments):
    drafts = plan_sequence(*arguments)
    assert [draft.day for draft in drafts] == list(range(1, arguments[1] + 1))
    for draft in drafts:
        assert list(draft.parts) == PARTS
        for part in draft.parts.values():
            prompts = part.prompts()
            assert len(prompts) == part.count >= 1
            assert not set(part.avoid) & {prompt.key for prompt in prompts}
            assert part.idea in KINDS[part.kind].fetch


@given(DRAFTS)
@settings(max_examples=40, deadline=None)
def test_a_prompt_comes_again_within_the_window_only_where_no_other_is_left(arguments):
    met = {}
    for draft in plan_sequence(*arguments):
        for part in draft.parts.values():
            pool = pool_of(part.kind, part.within, part.depth)
            unmet = [key for key in pool.keys if draft.day - met.get(key, -99) >= WINDOW]
            for prompt in part.prompts():
                if draft.day - met.get(prompt.key, -99) < WINDOW:
                    assert not unmet or KINDS[part.kind].one_number
                met[prompt.key] = draft.day


def test_nothing_comes_twice_in_a_week_on_halving_within_twenty():
    keys = [
        prompt.key
        for draft in plan_sequence("halving", 5, 20, 1)
        for part in draft.parts.values()
        for prompt in part.prompts()
    ]
    assert len(keys) == len(set(keys))


def test_every_fact_of_the_range_is_met_before_any_comes_again():
    drafts = plan_sequence("number-bonds", 15, 10, 4)
    facts = set()
    for draft in drafts:
        for part in draft.parts.values():
            if part.kind == "number-bonds":
                every = set(pool_of(part.kind, part.within, part.depth).by_fact)
                new = {f"{prompt.kind}/{prompt.fact}" for prompt in part.prompts()}
                assert not new & facts or every <= facts | new
                facts |= new
    assert len(facts) > 20


def test_the_same_arguments_draft_the_same_days():
    assert plan_sequence("adding", 10, 10, 5) == plan_sequence("adding", 10, 10, 5)
    assert plan_sequence("adding", 10, 10, 5) != plan_sequence("adding", 10, 10, 6)


@pytest.mark.parametrize("route", ROUTES.values(), ids=list(ROUTES))
def test_a_route_goes_in_order_to_its_focus_and_says_where_the_order_is_from(route):
    assert route.source
    assert route.before
    assert set(route.before) <= KINDS.keys()
    depths = [step.depth for step in route.steps if step.kind == route.focus]
    assert depths == sorted(depths, key=DEPTHS.index)
    assert len([step for step in route.steps if step.needed]) <= 5
    for days in range(5, 16):
        walked = route.over(days)
        places = [route.steps.index(step) for step in walked]
        assert len(walked) == days
        assert places == sorted(places)
        assert {step for step in route.steps if step.needed} <= set(walked)


def test_doubling_comes_before_halving_and_halving_before_its_number_sentence():
    for focus in ("halving", "halving-number-sentence"):
        for days in (5, 10, 15):
            kinds = [draft.main_task.kind for draft in plan_sequence(focus, days, 10, 1)]
            order = [kinds.index(k) for k in ("doubling", "halving", "halving-number-sentence")]
            assert order == sorted(order)


def test_a_kind_comes_back_after_one_two_four_and_seven_days():
    returning = Returning(["adding"])
    other = Step("subitising", "core")
    days = [day for day in range(1, 30) if returning.on(day, other)[0] == "adding"]
    assert days == list(range(1, 30))
    assert GAPS == (1, 2, 4, 7)
    many = Returning(["adding", "doubling", "one-more", "comparing", "ordering", "odd-or-even"])
    met = [day for day in range(1, 40) if many.on(day, other)[0] == "adding"]
    assert met[1] - met[0] < met[-1] - met[-2]


def test_quick_recall_is_not_the_main_task_again():
    for draft in plan_sequence("halving", 15, 20, 3):
        assert draft.quick_recall.kind != draft.main_task.kind


def test_only_kinds_the_class_has_met_come_back():
    known = ["subitising", "one-more"]
    drafts = plan_sequence("doubling", 10, 10, 3, known)
    met = set(known)
    for draft in drafts:
        assert draft.quick_recall.kind in met
        met.add(draft.main_task.kind)


def test_ideas_for_home_change_from_day_to_day():
    drafts = plan_sequence("adding", 15, 10, 2)
    ideas = [d.try_at_home.idea for d in drafts if d.try_at_home.kind == "adding"]
    assert all(one != other for one, other in itertools.pairwise(ideas))


def test_numbers_stay_within_what_the_class_works_in_but_counts_go_further():
    for draft in plan_sequence("halving", 10, 10, 1):
        for name in ("number_of_the_day", "quick_recall", "main_task", "try_at_home"):
            assert draft.parts[name].within <= 10
        assert (draft.warm_up.kind, draft.warm_up.within) in WARM_UPS
    assert plan_sequence("counting-on-in-tens", 5, 10, 1)[0].main_task.within == 100


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ({"focus": "fractions"}, "focus must be one of .*, not 'fractions'"),
        ({"days": 4}, "days must be from 5 to 15, not 4"),
        ({"days": 16}, "days must be from 5 to 15, not 16"),
        ({"within": 7}, "within must be one of 5, 10, 20, 50, 100, 200, not 7"),
        ({"seed": None}, "seed must be a whole number, not None"),
        ({"known": ["algebra"]}, "known must be of .*, not 'algebra'"),
    ],
)
def test_a_wrong_argument_is_named_with_what_is_allowed(arguments, said):
    right = {"focus": "halving", "days": 5, "within": 10, "seed": 1, "known": None}
    with pytest.raises(ValueError, match=said):
        plan_sequence(**{**right, **arguments})


def test_there_is_a_route_for_every_kind():
    assert ROUTES.keys() == KINDS.keys()
    assert all(
        how_many(step.kind, KINDS[step.kind].ranges[-1], step.depth) > 0
        for route in ROUTES.values()
        for step in route.steps
    )
