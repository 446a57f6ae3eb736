"""A set of prompts: no repeats, nothing to be avoided, and it tells mistakes apart."""

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tasks.numberwork import DEPTHS, KINDS, how_many, make_prompts, tell_apart
from tasks.numberwork.choosing import best_mixes, enough
from tasks.numberwork.making import prompt_of
from tasks.numberwork.pool import STEPS, number_of, pool_of
from tests.tasks.numberwork.drawing import EVERY, SEEDS, UNHURRIED, prompt_sets

NAMES = {name: ("none", *kind.mistakes) for name, kind in KINDS.items()}


def differing(prompts, one, other):
    """Count the prompts on which two hypotheses lead to different answers."""
    answers = [
        (prompt.mistakes.get(one, prompt.answer), prompt.mistakes.get(other, prompt.answer))
        for prompt in prompts
    ]
    return sum(first != second for first, second in answers)


@UNHURRIED
@given(prompt_sets())
def test_no_prompt_comes_twice(prompts):
    assert len({prompt.key for prompt in prompts}) == len(prompts)
    assert len({(prompt.sentence, repr(prompt.picture)) for prompt in prompts}) == len(prompts)


def test_no_two_prompts_of_a_kind_look_alike():
    for kind, within, depth in EVERY:
        pool = pool_of(kind, within, depth)
        prompts = [prompt_of(pool.kind, ask, within, depth) for ask in pool.asks]
        assert len({(prompt.sentence, repr(prompt.picture)) for prompt in prompts}) == len(prompts)
        assert len(set(pool.keys)) == len(prompts)


@UNHURRIED
@given(prompt_sets())
def test_every_two_mistakes_differ_somewhere_or_the_set_says_so(prompts):
    said = {frozenset(pair) for pair in tell_apart(prompts)}
    for pair in combinations(NAMES[prompts[0].kind], 2):
        assert (differing(prompts, *pair) == 0) == (frozenset(pair) in said)


@pytest.mark.parametrize(("kind", "within", "depth"), EVERY)
def test_eight_prompts_tell_apart_whatever_can_be_told_apart(kind, within, depth):
    prompts = make_prompts(kind, within, min(8, how_many(kind, within, depth)), 1, depth=depth)
    asks = [
        ask
        for ask in pool_of(kind, within, depth).asks
        if not KINDS[kind].one_number or ask.numbers[0] == prompts[0].numbers[0]
    ]
    for pair in tell_apart(prompts):
        assert differing(asks, *pair) == 0, pair


@pytest.mark.parametrize(("kind", "within", "depth"), EVERY)
def test_eight_prompts_tell_each_mistake_from_a_plain_miscount_where_any_could(kind, within, depth):
    prompts = make_prompts(kind, within, min(8, how_many(kind, within, depth)), 1, depth=depth)
    of_one = KINDS[kind].one_number
    asks = [
        ask
        for ask in pool_of(kind, within, depth).asks
        if not of_one or ask.numbers[0] == prompts[0].numbers[0]
    ]
    for mistake in KINDS[kind].mistakes:
        for miscount in STEPS:
            could = any(parts(ask, mistake, miscount) for ask in asks)
            assert could == any(parts(prompt, mistake, miscount) for prompt in prompts)


def parts(asked, mistake, miscount):
    """Tell whether a child with this mistake answers otherwise than one who miscounts so."""
    number = number_of(asked)
    counted = asked.answer
    if miscount in asked.mistakes:
        counted = asked.mistakes[miscount]
    elif number is not None and number + STEPS[miscount] >= 0:
        counted = number + STEPS[miscount]
    return asked.mistakes.get(mistake, asked.answer) != counted


def test_half_of_eight_tells_more_than_half_of_four():
    for seed in range(20):
        (prompt,) = make_prompts("halving", 10, 1, seed)
        assert max(prompt.answer, *prompt.numbers) > 4


@UNHURRIED
@given(
    st.lists(st.tuples(st.integers(0, 63), st.integers(1, 4)), min_size=2, max_size=5, unique=True),
    st.integers(1, 4),
)
def test_the_mix_is_the_best_of_all_where_all_can_be_tried(groups, count):
    masks, room = zip(*groups, strict=True)
    singles = [mask for mask, many in groups for _ in range(many)]
    if len(singles) < count:
        return
    pairs = [bit for bit in range(6) if any(mask >> bit & 1 for mask in masks)]

    def least(chosen):
        met = [sum(mask >> bit & 1 for mask in chosen) for bit in pairs]
        return min(min(met, default=0), enough(count))

    mixes = best_mixes(masks, room, (), count)
    best = max(least(chosen) for chosen in combinations(singles, count))
    for mix in mixes:
        chosen = [mask for mask, many in zip(masks, mix, strict=True) for _ in range(many)]
        assert len(chosen) == count
        assert least(chosen) == best


@UNHURRIED
@given(st.data(), prompt_sets(most=6), SEEDS)
def test_what_is_to_be_avoided_does_not_come_back(data, prompts, seed):
    first = prompts[0]
    there = how_many(first.kind, first.within, first.depth)
    if KINDS[first.kind].one_number or there <= len(prompts):
        return
    count = data.draw(st.integers(1, min(6, there - len(prompts))))
    by_key = data.draw(st.booleans())
    avoid = [prompt.key for prompt in prompts] if by_key else prompts
    later = make_prompts(first.kind, first.within, count, seed, avoid, first.depth)
    assert not {prompt.key for prompt in prompts} & {prompt.key for prompt in later}


def test_every_fact_is_met_before_any_comes_again():
    met, facts = [], []
    for day in range(5):
        prompts = make_prompts("adding", 5, 4, day, met)
        met += prompts
        facts += [prompt.fact for prompt in prompts]
    assert len(set(facts)) == len(facts) == 20


def test_the_last_new_facts_are_taken_before_old_ones_in_another_form():
    first = make_prompts("halving", 10, 3, 1)
    second = make_prompts("halving", 10, 4, 2, first)
    new = {"2", "4", "6", "8", "10"} - {prompt.fact for prompt in first}
    assert new < {prompt.fact for prompt in second}


def test_a_set_goes_from_things_to_signs_and_from_small_numbers_to_large():
    for kind in ("one-more", "doubling", "halving-number-sentence", "number-of-the-day"):
        for seed in range(20):
            asked = make_prompts(kind, 20, 5, seed)
            signed = [any(sign in prompt.sentence for sign in "+−÷") for prompt in asked]
            assert signed == sorted(signed)
            for part in (False, True):
                sizes = [
                    max(prompt.answer if isinstance(prompt.answer, int) else 0, *prompt.numbers)
                    for prompt, has in zip(asked, signed, strict=True)
                    if has is part
                ]
                assert sizes == sorted(sizes)


def test_the_prompts_of_a_number_of_the_day_are_about_one_number():
    for seed in range(20):
        prompts = make_prompts("number-of-the-day", 10, 8, seed)
        assert len({prompt.numbers[0] for prompt in prompts}) == 1


def test_the_number_of_the_day_is_a_new_one_each_day():
    met, numbers = [], []
    for day in range(5):
        prompts = make_prompts("number-of-the-day", 10, 6, day, met)
        met += prompts
        numbers.append(prompts[0].numbers[0])
    assert len(set(numbers)) == 5


def test_with_support_begins_with_the_small_numbers():
    prompts = make_prompts("adding", 10, 8, 3, depth="with support")
    largest = [max(prompt.answer, *prompt.numbers) for prompt in prompts]
    assert largest == sorted(largest)


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ({"kind": "halfing"}, "kind must be one of .*halving.*'halfing'"),
        ({"within": 7}, "within must be 5, 10, 20, 50 or 100 for halving, not 7"),
        ({"within": "10"}, "within must be"),
        ({"within": True}, "within must be"),
        ({"count": 0}, "count must be a whole number from 1 to 100, not 0"),
        ({"count": 101}, "count must be a whole number from 1 to 100, not 101"),
        ({"count": 2.5}, "count must be"),
        ({"seed": "a"}, "seed must be a whole number, not 'a'"),
        ({"depth": "hard"}, "depth must be one of with support, core, challenge, not 'hard'"),
    ],
)
def test_a_wrong_argument_is_named_with_what_is_allowed(arguments, said):
    right = {"kind": "halving", "within": 10, "count": 3, "seed": 1, "depth": "core"}
    with pytest.raises(ValueError, match=said):
        make_prompts(**{**right, **arguments})


@pytest.mark.parametrize(("kind", "within", "depth"), EVERY[::7])
def test_a_set_that_cannot_be_filled_says_how_many_prompts_there_are(kind, within, depth):
    there = how_many(kind, within, depth)
    if there < 100:
        assert len(make_prompts(kind, within, there, 5, depth=depth)) == there
        with pytest.raises(
            ValueError, match=rf"count must be at most {there}: .* has {there} prom"
        ):
            make_prompts(kind, within, there + 1, 5, depth=depth)


def test_a_set_short_of_prompts_for_those_avoided_says_how_many_are_left():
    met = make_prompts("halving", 10, 8, 1)
    with pytest.raises(ValueError, match="has 10 prompts, 2 of them not to be avoided, not 3"):
        make_prompts("halving", 10, 3, 2, met)


def test_different_seeds_give_a_class_different_sets():
    for kind, within in (("adding", 10), ("halving", 20), ("counting-on-in-ones", 50)):
        sets = {
            frozenset(prompt.key for prompt in make_prompts(kind, within, 6, seed))
            for seed in range(30)
        }
        assert len(sets) > 15


def test_every_depth_of_every_kind_has_prompts_in_every_range():
    assert all(how_many(kind, within, depth) > 0 for kind, within, depth in EVERY)
    assert len(EVERY) == sum(len(kind.ranges) * len(DEPTHS) for kind in KINDS.values())


@pytest.mark.parametrize("depth", DEPTHS)
@pytest.mark.parametrize("number", range(1, 21))
def test_the_number_of_the_day_can_be_chosen(number, depth):
    there = how_many("number-of-the-day", 20, depth, number=number)

    prompts = make_prompts("number-of-the-day", 20, there, 5, depth=depth, number=number)

    assert {prompt.numbers[0] for prompt in prompts} == {number}
    assert len({prompt.key for prompt in prompts}) == there >= 4
    with pytest.raises(ValueError, match=f"has {there} prompts about one number, not"):
        make_prompts("number-of-the-day", 20, there + 1, 5, depth=depth, number=number)


@pytest.mark.parametrize(
    ("kind", "number", "said"),
    [
        ("number-of-the-day", 0, "number must be a whole number from 1 to 10, not 0"),
        ("number-of-the-day", 11, "number must be a whole number from 1 to 10, not 11"),
        ("number-of-the-day", "7", "number must be a whole number from 1 to 10, not '7'"),
        ("halving", 8, "number cannot be chosen for halving"),
    ],
)
def test_a_number_that_cannot_be_the_number_of_the_day_is_refused(kind, number, said):
    with pytest.raises(ValueError, match=said):
        make_prompts(kind, 10, 1, 1, number=number)


def test_what_is_avoided_does_not_count_as_there():
    three = make_prompts("doubling", 10, 3, 1)

    assert how_many("doubling", 10, avoid=three) == how_many("doubling", 10) - 3
