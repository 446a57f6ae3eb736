"""Drafted weeks: one step on each day, facts that come back in another dress, easy first."""

import itertools
import math
from collections import Counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tasks.numberwork import DEPTHS, EVERY_KIND, KINDS, ROUTES, how_many, plan_sequence
from tasks.numberwork.ease import with_nothing
from tasks.numberwork.pool import pool_of
from tasks.numberwork.sequences.filling import Slot, fill
from tasks.numberwork.sequences.ladder import SmallStep, ladder, walk
from tasks.numberwork.sequences.practice import dress_of, from_easy_to_hard
from tasks.numberwork.sequences.returning import GAPS, Returning
from tasks.numberwork.sequences.sequence import RANGES, WARM_UPS

PARTS = ["warm_up", "main_task", "number_of_the_day", "quick_recall", "try_at_home"]
DRAFTS = st.tuples(
    st.sampled_from(sorted(ROUTES)),
    st.integers(5, 15),
    st.sampled_from(RANGES),
    st.integers(0, 2**32),
)
EVERY_ROUTE = pytest.mark.parametrize("focus", sorted(ROUTES))


def mains(focus: str, days: int, within: int, seed: int = 1):
    """Return the main task of each day."""
    return [draft.main_task for draft in plan_sequence(focus, days, within, seed)]


@given(DRAFTS)
@settings(max_examples=40, deadline=None)
def test_every_day_has_its_five_parts_and_all_can_be_asked(arguments):
    drafts = plan_sequence(*arguments)
    assert [draft.day for draft in drafts] == list(range(1, arguments[1] + 1))
    for draft in drafts:
        assert list(draft.parts) == PARTS
        for part in draft.parts.values():
            assert len(part.prompts()) == part.count >= 1
            assert part.idea in (EVERY_KIND[part.kind].fetch or ("",))


@given(DRAFTS)
@settings(max_examples=40, deadline=None)
def test_no_more_than_eight_prompts_of_a_drafted_day_ask_for_an_answer(arguments):
    for draft in plan_sequence(*arguments):
        asked = {name: part.prompts() for name, part in draft.parts.items()}
        assert len(asked["warm_up"]) == len(asked["number_of_the_day"]) == 1
        for together in ("warm_up", "number_of_the_day"):
            assert not any(prompt.can_be_marked for prompt in asked[together])
        assert len(asked["try_at_home"]) == 1
        assert len(asked["quick_recall"]) <= 3
        assert sum(each.can_be_marked for prompts in asked.values() for each in prompts) <= 8


@EVERY_ROUTE
@pytest.mark.parametrize("within", RANGES)
def test_of_two_weeks_at_least_eight_days_are_on_the_focus_each_unlike_the_day_before(
    focus, within
):
    days = mains(focus, 10, within)
    others = [step.kind for step in ROUTES[focus].steps if step.needed and step.kind != focus]
    assert sum(main.kind == focus for main in days) >= 8
    assert len(others) <= 2
    steps = [(each.kind, each.within, each.depth, each.only, each.explains) for each in days]
    assert all(one != other for one, other in itertools.pairwise(steps))
    of_focus = [DEPTHS.index(each.depth) for each in days if each.kind == focus]
    assert of_focus == sorted(of_focus)


@EVERY_ROUTE
@pytest.mark.parametrize("within", RANGES)
def test_every_main_task_has_four_or_five_prompts_and_never_the_same_for_four_days(focus, within):
    days = mains(focus, 15, within)
    assert {len(each.prompts()) for each in days} <= {4, 5}
    asked = [frozenset(map(dress_of, each.prompts())) for each in days]
    assert all(len(set(asked[day : day + 4])) > 1 for day in range(len(asked) - 3))


@EVERY_ROUTE
@pytest.mark.parametrize("depth", DEPTHS)
def test_a_group_of_any_depth_gets_as_many_prompts_as_the_class_and_moves_on_too(focus, depth):
    for within in (5, 10, 20):
        days = mains(focus, 10, within)
        slots = [Slot(day, main.versions[depth], frozenset((7,))) for day, main in enumerate(days)]
        drawn = fill(slots, 3)
        assert [len(each.prompts) for each in drawn] == [len(main.prompts()) for main in days]
        asked = [frozenset(map(dress_of, each.prompts)) for each in drawn]
        least = min(len(pool_of(focus, main.within, depth).keys) for main in days)
        if least > 5:  # of fewer questions a set of five is all there are, each day
            assert all(len(set(asked[day : day + 4])) > 1 for day in range(len(asked) - 3))


@given(DRAFTS)
@settings(max_examples=40, deadline=None)
def test_a_fact_in_quick_recall_was_in_a_main_task_before(arguments):
    met: dict[str, set[str]] = {}
    for draft in plan_sequence(*arguments):
        for prompt in draft.quick_recall.prompts():
            assert prompt.kind not in met or prompt.fact in met[prompt.kind]
            assert prompt.kind in met or prompt.kind in ROUTES[arguments[0]].before
        for prompt in draft.main_task.prompts():
            met.setdefault(prompt.kind, set()).add(prompt.fact)


def test_of_a_kind_met_before_only_the_facts_are_recalled_that_a_main_task_asked():
    known = {"doubling": ("2", "4"), "adding": ("2,3", "no such fact")}
    drafts = plan_sequence("halving", 10, 10, 3, known)
    recalled = {kind: set() for kind in known}
    for draft in drafts:
        for prompt in draft.quick_recall.prompts():
            if prompt.kind in known:
                recalled[prompt.kind].add(prompt.fact)
    assert recalled["doubling"] <= set(known["doubling"])
    assert recalled["doubling"]


@given(DRAFTS)
@settings(max_examples=40, deadline=None)
def test_easy_comes_first_within_a_part_of_a_day_but_for_neighbours(arguments):
    for draft in plan_sequence(*arguments):
        for part in draft.parts.values():
            order = [from_easy_to_hard(prompt) for prompt in part.prompts()]
            for place, key in enumerate(order):
                assert key in sorted(order)[max(0, place - 1) : place + 2]


@given(DRAFTS)
@settings(max_examples=40, deadline=None)
def test_the_right_answers_of_a_part_are_no_plain_count(arguments):
    for draft in plan_sequence(*arguments):
        answers = [prompt.answer for prompt in draft.main_task.prompts()]
        if all(isinstance(answer, int) for answer in answers):
            for four in zip(answers, answers[1:], answers[2:], answers[3:], strict=False):
                steps = {after - before for before, after in itertools.pairwise(four)}
                assert len(steps) > 1 or steps == {0}, four


def test_no_main_task_begins_with_a_sum_that_has_nought_in_it():
    for focus in ("adding", "taking-away", "number-bonds"):
        for draft in plan_sequence(focus, 10, 10, 4):
            assert not with_nothing(draft.main_task.prompts()[0])


@EVERY_ROUTE
@pytest.mark.parametrize("within", [5, 10, 20])
def test_facts_of_the_last_days_come_back_on_purpose(focus, within):
    if KINDS[focus].one_number:
        return  # Another number each day.
    days = mains(focus, 10, within)
    for place, main in enumerate(days):
        week = [each for each in days[max(0, place - 4) : place] if each.kind == focus]
        lately = {each.fact for other in week[:-1] for each in other.prompts()}
        of_week = {each.fact for other in week for each in other.prompts()}
        asks = pool_of(main.kind, main.within, main.depth).asks
        possible = {ask.fact for ask in asks if main.only.allows(ask)} & lately
        if main.kind == focus and possible:
            assert {prompt.fact for prompt in main.prompts()} & of_week


@given(DRAFTS)
@settings(max_examples=40, deadline=None)
def test_nothing_is_asked_twice_on_a_day_while_the_kind_has_enough(arguments):
    for draft in plan_sequence(*arguments):
        parts = list(draft.parts.values())
        keys = Counter(prompt.key for part in parts for prompt in part.prompts())
        for part in parts:
            pools = [pool_of(part.kind, part.within, depth).keys for depth in DEPTHS]
            wanted = sum(other.count for other in parts if other.kind == part.kind)
            if len({key for pool in pools for key in pool}) >= 3 * wanted:
                assert max(keys[prompt.key] for prompt in part.prompts()) == 1


@given(DRAFTS)
@settings(max_examples=20, deadline=None)
def test_one_and_nought_are_no_number_of_the_day(arguments):
    for draft in plan_sequence(*arguments):
        assert draft.number_of_the_day.prompts()[0].numbers[0] > 1


def test_the_same_arguments_draft_the_same_days():
    assert plan_sequence("adding", 10, 10, 5) == plan_sequence("adding", 10, 10, 5)
    assert plan_sequence("adding", 10, 10, 5) != plan_sequence("adding", 10, 10, 6)


@pytest.mark.parametrize("route", ROUTES.values(), ids=list(ROUTES))
def test_a_route_goes_in_order_to_its_focus_and_says_where_the_order_is_from(route):
    assert route.source
    assert route.before
    assert set(route.before) <= KINDS.keys()
    depths = [step.depth for step in route.steps if step.kind == route.focus]
    assert depths == list(DEPTHS)
    for days in range(5, 16):
        walked = route.over(days, 10)
        assert len(walked) == days
        kinds = [step.kind for step in route.steps]
        assert [kinds.index(step.kind) for step in walked] == sorted(
            kinds.index(step.kind) for step in walked
        )
        needed = {step.kind for step in route.steps if step.needed}
        assert needed <= {step.kind for step in walked}
        others = sum(step.kind != route.focus for step in walked)
        assert others <= max(len(needed) - 1, days - math.ceil(days * 0.8))


@pytest.mark.parametrize("within", [5, 10, 20])
@pytest.mark.parametrize("focus", ["halving", "halving-number-sentence"])
def test_sharing_things_comes_first_then_halves_and_dividing_last(focus, within):
    for days in range(5, 16):
        drafts = plan_sequence(focus, days, within, 1)
        kinds = [draft.main_task.kind for draft in drafts]
        assert kinds[0] == "sharing-equally"
        assert drafts[0].main_task.depth == "with support"
        first = drafts[0].main_task.prompts()
        shared = [each.numbers[1] for each in first if within > 5 or each.depth == "with support"]
        assert set(shared) == {2}  # within five there are too few, and harder ones stand in
        order = ["sharing-equally", "halving", "halving-number-sentence"]
        assert [order.index(kind) for kind in kinds] == sorted(order.index(kind) for kind in kinds)
        shapes = [d.day for d in drafts if d.try_at_home.kind == "halves-of-shapes"]
        written = [draft for draft in drafts if draft.main_task.kind == order[-1]]
        assert shapes
        assert all(draft.day > shapes[0] or focus != "halving" for draft in written)
        assert all("lies beyond this year's statutory goals" in draft.why for draft in written)
    assert written


def test_doubling_is_known_before_halving():
    assert "doubling" in ROUTES["halving"].before
    assert "halving" in ROUTES["halving-number-sentence"].before


def test_numbers_grow_within_a_depth_and_the_ways_of_asking_come_one_by_one():
    steps = ladder("halving", 20)
    assert [(step.only.least, step.only.most) for step in steps[:2]] == [(0, 10), (8, 20)]
    assert [step.only.forms for step in steps if step.depth == "core"] == [
        ("half of",),
        ("half of",),
        ("equals first",),
        (),
    ]
    assert [step.depth for step in steps if step.explains] == ["core", "challenge"]


def test_a_walk_begins_with_the_first_step_and_ends_with_the_last():
    steps = ladder("adding", 10)
    for days in range(2, len(steps) + 1):
        walked = walk(steps, days)
        assert (walked[0], walked[-1]) == (steps[0], steps[-1])
        assert [steps.index(step) for step in walked] == sorted(map(steps.index, walked))


def test_where_there_are_fewer_steps_than_days_each_is_explained_when_it_comes_again():
    steps = ladder("halving", 5, ("with support",))
    walked = walk(steps, 10)
    assert all(one != other for one, other in itertools.pairwise(walked))


def test_a_kind_comes_back_after_one_two_four_and_seven_days():
    returning = Returning(["adding"])
    other = SmallStep("subitising", 5, "core")
    days = [day for day in range(1, 30) if returning.on(day, other)[0] == "adding"]
    assert days[0] == 1
    assert GAPS == (1, 2, 4, 7)
    many = Returning(["adding", "doubling", "one-more", "comparing", "ordering", "odd-or-even"])
    met = [day for day in range(1, 40) if many.on(day, other)[0] == "adding"]
    assert met[1] - met[0] < met[-1] - met[-2]


def test_on_its_first_day_the_kind_of_the_main_task_is_not_recalled_beside_it():
    returning = Returning(["one-less", "adding"])
    main = SmallStep("one-less", 5, "core")
    assert [returning.on(day, main)[0] for day in (1, 2)] == ["adding", "one-less"]
    assert Returning(["one-less"]).on(1, main)[0] == "one-less"


def test_days_on_taking_away_end_with_stories_of_taking_away_and_not_of_adding():
    for days in (10, 15):
        last = plan_sequence("taking-away", days, 10, 2)[-1].main_task
        assert last.kind == "story-problems"
        assert {prompt.form for prompt in last.prompts()} == {"take from, result unknown"}


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
        assert (draft.warm_up.kind, draft.warm_up.within, draft.warm_up.depth) in WARM_UPS
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
