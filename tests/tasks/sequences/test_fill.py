"""Drawing many parts together: no child is asked one prompt twice within a week."""

from hypothesis import given, settings
from hypothesis import strategies as st

from tasks.numberwork import DEPTHS, KINDS, ROUTES, how_many, plan_sequence
from tasks.numberwork.pool import pool_of
from tasks.numberwork.sequences.drafting import WINDOW
from tasks.plans.prompt_selection import Choice
from tasks.sequences.fill import CLASS, Slot, fill, repeats

GROUPS = (7, 8)


def slots_of_weeks(focus: str, days: int, within: int, seed: int) -> list[Slot]:
    """Return the slots of a drafted sequence; two groups have versions of each main task."""
    slots = []
    for day in plan_sequence(focus, days, within, seed):
        for name, part in day.parts.items():
            choice = Choice(part.kind, part.within, part.count, part.depth)
            everybody = (CLASS, *(() if name == "main_task" else GROUPS))
            slots.append(Slot(day.day, choice, frozenset(everybody)))
        main = day.main_task
        for group, depth in zip(GROUPS, ("with support", "challenge"), strict=True):
            there = how_many(main.kind, main.within, depth)
            version = Choice(main.kind, main.within, min(main.count, there), depth)
            slots.append(Slot(day.day, version, frozenset((group,))))
    return slots


WEEKS = st.builds(
    slots_of_weeks,
    st.sampled_from(sorted(ROUTES)),
    st.integers(5, 15),
    st.sampled_from((5, 10, 20)),
    st.integers(0, 2**31),
)


def keys_of(slots: list[Slot], drawn: list) -> list[tuple[Slot, tuple[str, ...]]]:
    """Return each slot with the keys it is asked: those drawn, or those kept."""
    return [
        (slot, tuple(prompt.key for prompt in each.prompts) if each else slot.kept)
        for slot, each in zip(slots, drawn, strict=True)
    ]


def check_no_repeats(asked: list[tuple[Slot, tuple[str, ...]]]) -> None:
    """Fail where the same reader is asked a prompt twice within the window, while others are left.

    What is left when a slot is drawn is worked out here by listing, not by the code that draws.
    """
    there = [every_key(slot.choice) for slot, _keys in asked]
    order = sorted(range(len(asked)), key=lambda place: (len(there[place]), place))
    before = [asked[place] for place in range(len(asked)) if asked[place][0].kept]
    for place in order:
        slot, keys = asked[place]
        if slot.kept:
            continue
        near = {key for other, found in before if is_near(slot, other) for key in found}
        assert not set(keys) & near or not there[place] - near
        before.append((slot, keys))


def is_near(one: Slot, other: Slot) -> bool:
    return abs(one.day - other.day) < WINDOW and bool(one.readers & other.readers)


def every_key(choice: Choice) -> set[str]:
    return set(pool_of(choice.kind, choice.within, choice.depth).keys)


@given(WEEKS, st.integers(0, 2**31))
@settings(max_examples=30, deadline=None)
def test_no_child_is_asked_a_prompt_twice_within_a_week_while_others_are_left(slots, seed):
    drawn = fill(slots, seed)

    for slot, each in zip(slots, drawn, strict=True):
        assert 1 <= len(each.prompts) <= slot.choice.count
        assert {prompt.kind for prompt in each.prompts} == {slot.choice.kind}
        assert {prompt.depth for prompt in each.prompts} == {slot.choice.depth}
    check_no_repeats(keys_of(slots, drawn))


@given(WEEKS, st.sets(st.integers(0, 104)), st.integers(0, 2**31))
@settings(max_examples=30, deadline=None)
def test_what_is_kept_stays_and_what_is_drawn_anew_repeats_none_of_it(slots, kept, seed):
    first = keys_of(slots, fill(slots, seed))
    held = [
        Slot(slot.day, slot.choice, slot.readers, kept=keys)
        if place in kept
        else Slot(slot.day, slot.choice, slot.readers, before=keys)
        for place, (slot, keys) in enumerate(first)
    ]

    second = keys_of(held, fill(held, seed + 1))

    for place, (before, after) in enumerate(zip(first, second, strict=True)):
        assert (before[1] == after[1]) or place not in kept
    check_no_repeats(second)


def test_a_fresh_draw_asks_other_prompts_than_before_where_there_are_enough():
    choice = Choice("adding", 20, 5, "core")
    before = keys_of([Slot(1, choice)], fill([Slot(1, choice)], 1))[0][1]

    after = fill([Slot(1, choice, before=before)], 2)[0]

    assert not {prompt.key for prompt in after.prompts} & set(before)


def test_what_was_set_lately_is_avoided_while_there_are_others():
    choice = Choice("doubling", 5, 2, "with support")
    every = pool_of("doubling", 5, "with support").keys
    lately = set(every[:-2])

    drawn = fill([Slot(1, choice)], 3, lately)[0]
    forced = fill([Slot(1, choice)], 3, set(every))[0]

    assert {prompt.key for prompt in drawn.prompts} == set(every[-2:])
    assert len(forced.prompts) == 2


def test_a_part_for_which_too_few_are_left_has_fewer_rather_than_the_same_again():
    there = how_many("doubling", 5, "with support")
    day = [Slot(1, Choice("doubling", 5, there - 1, "with support"))]
    next_day = Slot(2, Choice("doubling", 5, 3, "with support"))

    first, second = fill([*day, next_day], 4)

    assert len(second.prompts) == 1
    assert not {p.key for p in first.prompts} & {p.key for p in second.prompts}


def test_a_group_may_be_asked_what_only_the_others_are_asked():
    choice = Choice("doubling", 5, how_many("doubling", 5, "core"), "core")

    both = fill([Slot(1, choice, frozenset((CLASS,))), Slot(1, choice, frozenset((7,)))], 5)

    assert [len(each.prompts) for each in both] == [choice.count, choice.count]


def test_equal_arguments_draw_equal_prompts():
    slots = slots_of_weeks("halving", 10, 20, 1)

    assert fill(slots, 9) == fill(slots, 9)
    assert fill(slots, 9) != fill(slots, 10)


def test_repeats_within_the_window_are_found_and_those_further_apart_are_not():
    choice = Choice("halving", 10, 1, "core")
    kept = ("halving/8/half of",)
    near = [Slot(1, choice, kept=kept), Slot(WINDOW, choice, kept=kept)]
    far = [Slot(1, choice, kept=kept), Slot(WINDOW + 1, choice, kept=kept)]

    assert repeats(near) == [0, 1]
    assert repeats(far) == []


def test_every_kind_can_be_drawn_at_every_depth_for_a_group():
    for kind in KINDS.values():
        for depth in DEPTHS:
            choice = Choice(kind.name, kind.ranges[0], 1, depth)
            assert len(fill([Slot(1, choice)], 1)[0].prompts) == 1
