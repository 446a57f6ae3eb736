"""Changing a drafted sequence: swapping, locking, drawing the rest anew, and who was quicker."""

import datetime as dt
import threading

import pytest
from django.db import OperationalError, connection
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tasks.cards.wording import Wording
from tasks.models import DayPlan, Sequence, Task
from tasks.numberwork import KINDS
from tasks.plans import planning
from tasks.plans.planning import ChangedMeanwhileError, PlanningError, Seen
from tasks.plans.prompt_selection import Choice
from tasks.sequences.changing import lock_day, lock_part, redraw_rest, swap
from tasks.sequences.slots import Place
from tests.tasks.builders import (
    dates_of,
    drafted,
    drafted_week,
    gone_out,
    keys,
    own_part,
    seen,
    seen_now,
)
from tests.village import MONDAY, Village

pytestmark = pytest.mark.servers
TUESDAY, THURSDAY = MONDAY + dt.timedelta(days=1), MONDAY + dt.timedelta(days=3)


def parts_of(sequence: Sequence, date: dt.date) -> dict[tuple, int]:
    """Return the tasks of a day by part and group."""
    tasks = Task.objects.filter(day_plan__sequence=sequence, day_plan__date=date)
    return {(task.part, task.group_id): task.pk for task in tasks}


def all_keys(sequence: Sequence, **only: object) -> dict[int, list[str]]:
    """Return the keys of every task of a sequence."""
    tasks = Task.objects.filter(day_plan__sequence=sequence, **only)
    return {task.pk: keys(task) for task in tasks}


def repeats_for(sequence: Sequence, child) -> list[str]:
    """List what a child is asked twice on a day; on other days it comes back on purpose."""
    found = []
    for date in dates_of(sequence):
        tasks = Task.objects.filter(day_plan__sequence=sequence, day_plan__date=date)
        asked = [key for task in tasks.for_child(child) for key in keys(task)]
        found += [key for key in set(asked) if asked.count(key) > 1]
    return found


def test_two_days_change_places_whole_with_the_versions_of_groups(village: Village):
    sequence = drafted_week(village)
    DayPlan.objects.filter(date=MONDAY).update(note="Bring a sock.", focus="Our own words")
    before = parts_of(sequence, MONDAY), parts_of(sequence, THURSDAY)

    swap(sequence, Place(MONDAY), Place(THURSDAY), seen_now(village, sequence))

    assert (parts_of(sequence, THURSDAY), parts_of(sequence, MONDAY)) == before
    moved = DayPlan.objects.get(date=THURSDAY)
    assert (moved.note, moved.focus) == ("Bring a sock.", "Our own words")
    assert DayPlan.objects.get(date=MONDAY).note == ""


def test_two_parts_change_places_and_nothing_else_does(village: Village):
    sequence = drafted_week(village, "adding")
    before = parts_of(sequence, MONDAY), parts_of(sequence, THURSDAY)
    main = [key for key in before[0] | before[1] if key[0] == "main_task"]

    swap(
        sequence,
        Place(MONDAY, "main_task"),
        Place(THURSDAY, "main_task"),
        seen_now(village, sequence),
    )

    for old, new in ((before[0], THURSDAY), (before[1], MONDAY)):
        after = parts_of(sequence, new)
        assert all(after.get(key) == old.get(key) for key in main)
    rest = {key: pk for key, pk in before[0].items() if key not in main}
    assert rest.items() <= parts_of(sequence, MONDAY).items()
    assert DayPlan.objects.get(date=THURSDAY).focus == own_part(sequence, THURSDAY).title


def test_parts_of_two_sorts_change_places_and_their_words_follow(village: Village):
    sequence = drafted_week(village)
    recall = own_part(sequence, MONDAY, "quick_recall")
    home = own_part(sequence, TUESDAY, "try_at_home")

    swap(
        sequence,
        Place(MONDAY, "quick_recall"),
        Place(TUESDAY, "try_at_home"),
        seen_now(village, sequence),
    )

    moved = Task.objects.get(pk=recall.pk)
    assert (moved.part, moved.day_plan.date) == ("try_at_home", TUESDAY)
    assert moved.words == home.words
    assert moved.fetch in KINDS[moved.kind].fetch
    assert Task.objects.get(pk=home.pk).words == recall.words


def test_words_a_teacher_edited_stay_with_the_part_that_moves(village: Village):
    sequence = drafted_week(village)
    task = own_part(sequence, MONDAY, "quick_recall")
    words = Wording("Sing them.", "nothing", "Again?", "")
    planning.reword_part(task, words, seen(village, task.day_plan))

    swap(
        sequence,
        Place(MONDAY, "quick_recall"),
        Place(MONDAY, "main_task"),
        seen_now(village, sequence),
    )

    moved = Task.objects.get(pk=task.pk)
    assert (moved.part, moved.words) == ("main_task", "Sing them.")


def test_after_a_swap_nothing_is_asked_twice_on_a_day(village: Village):
    sequence = drafted_week(village, "adding", days=15)
    dates = dates_of(sequence)

    swap(sequence, Place(dates[0]), Place(dates[9]), seen_now(village, sequence))
    swap(sequence, Place(dates[1]), Place(dates[14]), seen_now(village, sequence))

    for child in (village.aisha, village.ben):
        assert repeats_for(sequence, child) == []


@pytest.mark.parametrize(
    ("one", "other"),
    [
        (Place(MONDAY), Place(MONDAY)),
        (Place(MONDAY), Place(TUESDAY, "main_task")),
    ],
)
def test_what_cannot_be_swapped_is_refused(village: Village, one: Place, other: Place):
    sequence = drafted_week(village)
    before = parts_of(sequence, MONDAY)

    with pytest.raises(PlanningError, match="two different days, or two different parts"):
        swap(sequence, one, other, seen_now(village, sequence))

    assert parts_of(sequence, MONDAY) == before


def test_a_day_outside_the_sequence_cannot_be_swapped_in(village: Village):
    sequence = drafted_week(village)
    outside = gone_out(drafted(village, date=MONDAY + dt.timedelta(days=7)))

    with pytest.raises(PlanningError, match="no longer in this sequence"):
        swap(sequence, Place(MONDAY), Place(outside.date), seen_now(village, sequence))


def test_what_is_locked_or_seen_by_families_stays_where_it_is(village: Village):
    sequence = drafted_week(village)
    lock_part(sequence, Place(MONDAY, "main_task"), True, seen_now(village, sequence))
    gone_out(DayPlan.objects.get(date=THURSDAY))

    with pytest.raises(PlanningError, match="main task of Monday is locked"):
        swap(sequence, Place(MONDAY), Place(TUESDAY), seen_now(village, sequence))
    with pytest.raises(PlanningError, match="Families see Thursday 26 November already"):
        swap(sequence, Place(TUESDAY), Place(THURSDAY), seen_now(village, sequence))


def test_a_whole_day_is_locked_and_unlocked_with_its_versions(village: Village):
    sequence = drafted_week(village, "adding")

    lock_day(sequence, MONDAY, True, seen_now(village, sequence))
    tasks = Task.objects.filter(day_plan__sequence=sequence)
    assert {task.locked for task in tasks.filter(day_plan__date=MONDAY)} == {True}
    assert {task.locked for task in tasks.exclude(day_plan__date=MONDAY)} == {False}

    lock_day(sequence, MONDAY, False, seen_now(village, sequence))
    assert not tasks.filter(locked=True).exists()


def test_the_rest_is_drawn_anew_and_what_is_locked_or_set_stays(village: Village):
    sequence = drafted_week(village, "adding")
    lock_part(sequence, Place(MONDAY, "main_task"), True, seen_now(village, sequence))
    lock_day(sequence, TUESDAY, True, seen_now(village, sequence))
    gone_out(DayPlan.objects.get(date=THURSDAY))
    before = all_keys(sequence)

    redraw_rest(sequence, seen_now(village, sequence))

    after = all_keys(sequence)
    stays = set(all_keys(sequence, locked=True))
    stays |= set(all_keys(sequence, day_plan__date=THURSDAY))
    assert all(after[pk] == before[pk] for pk in stays)
    adding = all_keys(sequence, kind="adding")
    assert all(after[pk] != before[pk] for pk in adding if pk not in stays)
    assert {pk: len(found) for pk, found in after.items()} == {
        task.pk: task.count for task in Task.objects.all()
    }


@settings(
    max_examples=6,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(
    focus=st.sampled_from(["adding", "taking-away", "number-bonds", "story-problems"]),
    days=st.sampled_from([5, 10, 15]),
    locks=st.sets(st.integers(0, 14)),
)
def test_however_much_is_locked_no_child_is_asked_the_same_twice_on_a_day(
    village: Village, focus: str, days: int, locks: set[int]
):
    Task.objects.all().delete()
    sequence = drafted_week(village, focus, days=days)
    for number, date in enumerate(dates_of(sequence)):
        if number in locks:
            lock_day(sequence, date, True, seen_now(village, sequence))
    locked = all_keys(sequence, locked=True)

    for _again in range(2):
        if len(locks & set(range(days))) < days:
            redraw_rest(sequence, seen_now(village, sequence))

    assert all_keys(sequence, locked=True) == locked
    for child in (village.aisha, village.ben):
        assert repeats_for(sequence, child) == []


def test_a_number_of_the_day_that_was_chosen_outlives_a_fresh_draw(village: Village):
    sequence = drafted_week(village)
    task = own_part(sequence, MONDAY, "number_of_the_day")
    chosen = Choice("number-of-the-day", 20, 3, "core", 7)
    planning.change_part(task, chosen, seen(village, task.day_plan))

    redraw_rest(sequence, seen_now(village, sequence))

    prompts = [row.prompt for row in Task.objects.get(pk=task.pk).prompts.all()]
    assert {prompt.numbers[0] for prompt in prompts} == {7}


def test_when_everything_is_locked_nothing_is_drawn(village: Village):
    sequence = drafted_week(village)
    Task.objects.all().update(locked=True)

    with pytest.raises(PlanningError, match="Everything is locked or set"):
        redraw_rest(sequence, seen_now(village, sequence))


def test_parts_that_cannot_be_filled_without_repeats_have_fewer_and_are_named(village: Village):
    sequence = drafted_week(village, "doubling", within=5)
    for date in dates_of(sequence)[:2]:
        Task.objects.filter(pk=own_part(sequence, date).pk).update(
            kind="doubling", within=5, count=12, depth="with support"
        )

    fewer = redraw_rest(sequence, seen_now(village, sequence))

    assert {task.day_plan.date for task in fewer} >= {MONDAY}
    assert all(task.count == task.prompts.count() >= 1 for task in Task.objects.all())


def test_a_change_of_one_day_counts_as_a_change_of_its_sequence(village: Village):
    sequence = drafted_week(village)
    stale = seen_now(village, sequence)
    task = own_part(sequence, TUESDAY)
    planning.redraw_part(task, seen(village, task.day_plan, "lead"))
    before = parts_of(sequence, MONDAY)

    with pytest.raises(ChangedMeanwhileError, match="Lead has changed these days"):
        swap(sequence, Place(MONDAY), Place(THURSDAY), stale)

    assert parts_of(sequence, MONDAY) == before


def test_a_change_of_the_sequence_is_told_to_whoever_has_one_of_its_days_open(village: Village):
    sequence = drafted_week(village)
    task = own_part(sequence, MONDAY)
    stale = seen(village, task.day_plan, "lead")
    swap(sequence, Place(MONDAY), Place(THURSDAY), seen_now(village, sequence))

    with pytest.raises(ChangedMeanwhileError, match="Teacher has changed this plan"):
        planning.redraw_part(task, stale)


@pytest.mark.django_db(transaction=True)
def test_of_two_who_draft_the_same_days_at_once_one_does_and_one_is_told():
    village = Village.build()
    start = threading.Barrier(2)
    outcomes: dict[str, str] = {}

    def plan(role: str) -> None:
        start.wait()
        while role not in outcomes:
            try:
                drafted_week(village)
                outcomes[role] = "drafted"
            except PlanningError:
                outcomes[role] = "told"
            except OperationalError:  # SQLite in memory does not wait for a lock.
                continue
        connection.close()

    at_once([threading.Thread(target=plan, args=[role]) for role in ("teacher", "lead")])

    # Whoever comes later finds the days taken, and drafts the week after or is told.
    assert "drafted" in outcomes.values()
    plans = DayPlan.objects.planned()
    assert len({plan.date for plan in plans}) == len(plans)
    assert all(plan.tasks.filter(group=None).count() == 5 for plan in plans)


@pytest.mark.django_db(transaction=True)
def test_of_two_who_swap_at_once_one_does_and_one_is_told():
    village = Village.build()
    sequence = drafted_week(village)
    before = seen_now(village, sequence).version
    start = threading.Barrier(2)
    outcomes: dict[dt.date, str] = {}

    def change(date: dt.date) -> None:
        start.wait()
        while date not in outcomes:
            try:
                swap(sequence, Place(MONDAY), Place(date), Seen(before, village.people["teacher"]))
                outcomes[date] = "swapped"
            except ChangedMeanwhileError:
                outcomes[date] = "told"
            except OperationalError:  # SQLite in memory does not wait for a lock.
                continue
        connection.close()

    at_once([threading.Thread(target=change, args=[date]) for date in (TUESDAY, THURSDAY)])

    assert sorted(outcomes.values()) == ["swapped", "told"]
    assert Sequence.objects.get().version == before + 1


def at_once(threads: list[threading.Thread]) -> None:
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
