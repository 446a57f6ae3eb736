"""Drawing many parts together: whole sets, no prompt twice on a day, recall of what was met."""

from hypothesis import given, settings
from hypothesis import strategies as st

from tasks.numberwork import DEPTHS, KINDS, ROUTES, plan_sequence
from tasks.numberwork.pool import pool_of
from tasks.numberwork.sequences.filling import CLASS, MAIN, RECALL, WINDOW, Slot, fill, repeats
from tasks.numberwork.sequences.only import Only
from tasks.numberwork.sequences.practice import Choice, dress_of

GROUPS = (7, 8)


def slots_of_weeks(focus: str, days: int, within: int, seed: int) -> list[Slot]:
    """Return the slots of a drafted sequence; two groups have versions of each main task."""
    slots = []
    for day in plan_sequence(focus, days, within, seed):
        for name, part in day.parts.items():
            everybody = (CLASS, *(() if name == "main_task" else GROUPS))
            slots.append(Slot(day.day, part.choice, frozenset(everybody), name))
        for group, depth in zip(GROUPS, ("with support", "challenge"), strict=True):
            version = day.main_task.versions[depth]
            slots.append(Slot(day.day, version, frozenset((group,))))
    return slots


WEEKS = st.builds(
    slots_of_weeks,
    st.sampled_from(sorted(ROUTES)),
    st.integers(5, 15),
    st.sampled_from((5, 10, 20)),
    st.integers(0, 2**31),
)


PLENTY = 10  # questions of a kind at a depth: of fewer, a day may have to do with less


@given(WEEKS, st.integers(0, 2**31))
@settings(max_examples=20, deadline=None)
def test_every_part_has_all_its_prompts_and_nobody_the_same_twice_on_a_day(slots, seed):
    drawn = fill(slots, seed)

    for slot, each in zip(slots, drawn, strict=True):
        own = pool_of(slot.choice.kind, slot.choice.within, slot.choice.depth).keys
        has_plenty = len(own) >= 2 * PLENTY and slot.part != RECALL  # which has only what was met
        least = slot.choice.count if has_plenty else 1
        assert least <= len(each.prompts) <= slot.choice.count
        assert {prompt.kind for prompt in each.prompts} == {slot.choice.kind}
        assert len({prompt.key for prompt in each.prompts}) == len(each.prompts)
    for slot, each in zip(slots, drawn, strict=True):
        same_day = [
            prompt.key
            for other, found in zip(slots, drawn, strict=True)
            if other is not slot and other.day == slot.day and other.readers & slot.readers
            if slot.part == RECALL or other.part != RECALL  # drawn when the main tasks are there
            for prompt in found.prompts
        ]
        own = pool_of(slot.choice.kind, slot.choice.within, slot.choice.depth)
        met = _met_by_all(slot, slots, drawn) if slot.part == RECALL else None
        asks = zip(own.keys, own.asks, strict=True)
        left = {key for key, ask in asks if met is None or ask.fact in met} - set(same_day)
        if len(own.keys) >= 2 * PLENTY and len(left) >= 2 * slot.choice.count:
            assert not {prompt.key for prompt in each.prompts} & set(same_day)


def _met_by_all(slot: Slot, slots, drawn) -> set[str]:
    """Return the facts that main tasks asked each reader of a recall on a day before."""
    by_reader = {reader: set() for reader in slot.readers}
    for other, found in zip(slots, drawn, strict=True):
        if other.part == MAIN and other.day < slot.day and other.choice.kind == slot.choice.kind:
            for reader in other.readers & slot.readers:
                by_reader[reader] |= {prompt.fact for prompt in found.prompts}
    return set.intersection(*by_reader.values())


@given(WEEKS, st.sets(st.integers(0, 104)), st.integers(0, 2**31))
@settings(max_examples=20, deadline=None)
def test_what_is_kept_stays_and_the_rest_is_drawn_around_it(slots, kept, seed):
    first = fill(slots, seed)
    held = [
        Slot(slot.day, slot.choice, slot.readers, slot.part, *_kept(each, place in kept))
        for place, (slot, each) in enumerate(zip(slots, first, strict=True))
    ]

    second = fill(held, seed + 1)

    for place, each in enumerate(second):
        assert (each is None) == (place in kept and place < len(slots))


def _kept(drawn, is_kept: bool) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return what a slot keeps, and what it had before where it keeps nothing."""
    dresses = tuple(map(dress_of, drawn.prompts))
    return (dresses, ()) if is_kept else ((), dresses)


def test_a_recall_asks_what_the_main_tasks_of_its_readers_asked():
    choice = Choice("adding", 10, 4, "core")
    slots = [
        Slot(1, choice, frozenset((CLASS,))),
        Slot(1, choice, frozenset((7,))),
        Slot(2, Choice("adding", 10, 2, "core"), frozenset((7,)), "quick_recall"),
    ]

    _own, version, recall = fill(slots, 4)

    facts = {prompt.fact for prompt in version.prompts}
    assert {prompt.fact for prompt in recall.prompts} <= facts


def test_a_groups_version_is_about_the_numbers_of_the_class():
    own = Slot(1, Choice("halving", 20, 4, "core"))
    version = Slot(1, Choice("halving", 20, 4, "with support"), frozenset((7,)))

    ours, theirs = fill([own, version], 2)

    assert len({p.fact for p in ours.prompts} & {p.fact for p in theirs.prompts}) >= 2


def test_of_chosen_facts_none_but_these_are_asked():
    choice = Choice("halving", 20, 4, "core", only=Only(facts=("8", "10")))

    drawn = fill([Slot(1, choice)], 5)[0]

    assert {prompt.fact for prompt in drawn.prompts} == {"8", "10"}
    assert len(drawn.prompts) == 4


def test_a_fresh_draw_asks_other_prompts_than_before_where_there_are_enough():
    choice = Choice("adding", 20, 5, "core")
    before = tuple(map(dress_of, fill([Slot(1, choice)], 1)[0].prompts))

    after = fill([Slot(1, choice, before=before)], 2)[0]

    assert not set(map(dress_of, after.prompts)) & set(before)


def test_what_was_set_lately_is_avoided_while_there_are_others():
    choice = Choice("doubling", 10, 2, "with support")
    every = [f"{key}@with support" for key in pool_of("doubling", 10, "with support").keys]

    drawn = fill([Slot(1, choice)], 3, every[:-2])[0]
    forced = fill([Slot(1, choice)], 3, every)[0]

    assert set(map(dress_of, drawn.prompts)) == set(every[-2:])
    assert set(map(dress_of, forced.prompts)) == set(every[:2])


def test_a_small_range_is_filled_up_with_the_same_facts_in_another_dress():
    day = Slot(1, Choice("doubling", 5, 4, "with support"))
    next_day = Slot(2, Choice("doubling", 5, 4, "with support"))

    first, second = fill([day, next_day], 4)

    assert [len(first.prompts), len(second.prompts)] == [4, 4]
    assert set(map(dress_of, first.prompts)) != set(map(dress_of, second.prompts))


def test_a_group_may_be_asked_what_only_the_others_are_asked():
    choice = Choice("doubling", 5, 4, "core")

    both = fill([Slot(1, choice, frozenset((CLASS,))), Slot(1, choice, frozenset((7,)))], 5)

    assert [len(each.prompts) for each in both] == [choice.count, choice.count]


def test_equal_arguments_draw_equal_prompts():
    slots = slots_of_weeks("halving", 10, 20, 1)

    assert fill(slots, 9) == fill(slots, 9)
    assert fill(slots, 9) != fill(slots, 10)


def test_the_same_dress_within_the_window_is_found_and_further_apart_or_in_another_it_is_not():
    choice = Choice("halving", 10, 1, "core")
    kept = ("halving/8/half of@core",)
    near = [Slot(1, choice, kept=kept), Slot(WINDOW, choice, kept=kept)]
    far = [Slot(1, choice, kept=kept), Slot(WINDOW + 1, choice, kept=kept)]
    other = Slot(2, choice, kept=("halving/8/half of@with support",))

    assert repeats(near) == [0, 1]
    assert repeats(far) == []
    assert repeats([near[0], other]) == []


def test_every_kind_can_be_drawn_at_every_depth_for_a_group():
    for kind in KINDS.values():
        for depth in DEPTHS:
            choice = Choice(kind.name, kind.ranges[0], 1, depth)
            assert len(fill([Slot(1, choice)], 1)[0].prompts) == 1
