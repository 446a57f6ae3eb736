"""Drafting a sequence: which days, what is on them, for whom, and what is left alone."""

import datetime as dt
import itertools

import pytest

from portal.people.models import Closure, SchoolClass, SchoolYear
from tasks.cards.wording import Wording
from tasks.models import DayPlan, Sequence, Task
from tasks.numberwork import KINDS, plan_sequence
from tasks.plans.history import kinds_met, last_set
from tasks.plans.planning import PlanningError, reword_part
from tasks.plans.prompt_selection import Choice
from tasks.sequences.drafting import copy
from tasks.sequences.school_days import TooFewDaysError, free_days, next_free_day
from tests.tasks.builders import (
    dates_of,
    drafted,
    drafted_week,
    gone_out,
    keys,
    own_part,
    seen,
)
from tests.village import MONDAY, Village

pytestmark = pytest.mark.servers


def day(number: int) -> dt.date:
    return MONDAY + dt.timedelta(days=number)


def close(village: Village, first: dt.date, last: dt.date) -> None:
    Closure.objects.create(school=village.school, name="Closed", first=first, last=last)


def test_a_week_is_drafted_on_the_written_route_with_five_parts_a_day(village: Village):
    sequence = drafted_week(village, "halving")

    drafts = plan_sequence("halving", 5, 20, sequence.seed)
    assert dates_of(sequence) == [day(number) for number in range(5)]
    for date, expected in zip(dates_of(sequence), drafts, strict=True):
        for name, part in expected.parts.items():
            task = own_part(sequence, date, name)
            found = (task.kind, task.within, task.depth)
            assert found == (part.kind, part.within, part.depth)
            assert task.prompts.count() == task.count == part.count


def test_nothing_of_a_draft_exists_for_families(village: Village):
    drafted_week(village)

    for role in ("family", "second home", "other family"):
        assert not DayPlan.objects.visible_to(village.people[role]).exists()
        assert not Task.objects.visible_to(village.people[role]).exists()


def test_closures_and_weekends_are_skipped(village: Village):
    close(village, day(1), day(1))
    close(village, day(4), day(8))

    sequence = drafted_week(village)

    assert dates_of(sequence) == [day(0), day(2), day(3), day(9), day(10)]
    assert (sequence.first, sequence.last) == (day(0), day(10))


def test_days_that_have_a_plan_are_left_as_they_are_set_or_not(village: Village):
    gone_out(drafted(village, date=day(1)))
    drafted(village, "quick_recall", date=day(2))
    before = {task.pk: keys(task) for task in Task.objects.all()}

    sequence = drafted_week(village)

    assert dates_of(sequence) == [day(0), day(3), day(4), day(7), day(8)]
    assert {pk: keys(Task.objects.get(pk=pk)) for pk in before} == before


def test_a_day_whose_parts_were_all_removed_is_free_again(village: Village):
    plan = drafted(village, date=day(0))
    plan.tasks.all().delete()

    sequence = drafted_week(village)

    assert dates_of(sequence)[0] == day(0)
    assert DayPlan.objects.get(date=day(0)).version == plan.version + 1


def test_a_sequence_that_runs_over_the_end_of_the_year_is_refused_with_what_to_do(
    village: Village,
):
    with pytest.raises(TooFewDaysError, match=r"21 July there are only 3 free school days"):
        drafted_week(village, first=dt.date(2027, 7, 19))

    assert not Sequence.objects.exists()
    assert not DayPlan.objects.exists()


def test_the_first_free_day_is_offered(village: Village):
    today = village.school.today()
    offered = next_free_day(village.robins)

    assert offered > today
    assert free_days(village.robins, today + dt.timedelta(days=1), 1) == [offered]


def test_nothing_is_asked_twice_on_a_day_nor_as_it_was_just_before(village: Village):
    choice = Choice("adding", 20, 5, "with support")
    before = gone_out(drafted(village, choice=choice, date=day(-3)))
    lately = {row.dress for row in before.tasks.get().prompts.all()}

    sequence = drafted_week(village, "adding")

    for date in dates_of(sequence):
        tasks = Task.objects.filter(day_plan__sequence=sequence, day_plan__date=date, group=None)
        asked = [key for task in tasks for key in keys(task)]
        assert len(asked) == len(set(asked))
    first = own_part(sequence, MONDAY)
    assert not lately & {row.dress for row in first.prompts.all()}


def test_quick_recall_asks_what_main_tasks_asked_on_days_before(village: Village):
    choice = Choice("number-bonds", 10, 5, "core")
    before = gone_out(drafted(village, choice=choice, date=day(-3)))
    met = {row.fact for row in before.tasks.get().prompts.all()}

    sequence = drafted_week(village, "adding", days=10, known=("number-bonds",))

    for date in dates_of(sequence):
        recalled = {row.fact for row in own_part(sequence, date, "quick_recall").prompts.all()}
        assert recalled <= met
        met |= {row.fact for row in own_part(sequence, date).prompts.all()}


def test_each_group_gets_the_main_task_at_its_own_depth(village: Village):
    pears = village.robins.groups.create(name="Pears", depth="challenge")
    village.robins.groups.create(name="Plums", depth="core")

    sequence = drafted_week(village, "adding")

    for date in dates_of(sequence):
        own = own_part(sequence, date)
        found = {
            (task.group, task.depth, task.part)
            for task in Task.objects.filter(day_plan__sequence=sequence, day_plan__date=date)
            if task.group
        }
        wanted = {(village.bens_group, "with support"), (pears, "challenge")}
        assert found == {(g, d, "main_task") for g, d in wanted if d != own.depth}
    versions = Task.objects.filter(day_plan__sequence=sequence).exclude(group=None)
    for task in versions:
        assert {row.prompt.depth for row in task.prompts.all()} == {task.depth}


def test_a_group_gets_as_many_prompts_as_the_class_and_none_twice_on_a_day(village: Village):
    sequence = drafted_week(village, "halving", within=5, days=10)

    for date in dates_of(sequence):
        tasks = Task.objects.filter(day_plan__sequence=sequence, day_plan__date=date)
        main = tasks.for_child(village.ben).get(part="main_task")
        assert main.prompts.count() == own_part(sequence, date).prompts.count() >= 4
        assert len(keys(main)) == len(set(keys(main)))


def test_what_to_use_at_home_changes_from_day_to_day_and_is_one_thing(village: Village):
    sequence = drafted_week(village, "doubling", days=10)

    said = [own_part(sequence, date, "try_at_home") for date in dates_of(sequence)]
    of_doubling = [task.fetch for task in said if task.kind == "doubling"]
    assert all(task.fetch in KINDS[task.kind].fetch for task in said)
    assert all(one != two for one, two in itertools.pairwise(of_doubling))


def test_kinds_the_class_was_set_are_taken_as_known_the_longest_ago_first(village: Village):
    recalled = Choice("one-more", 10, 2, "core")
    gone_out(drafted(village, "quick_recall", choice=recalled, date=day(-6)))
    gone_out(drafted(village, "main_task", date=day(-7)))
    gone_out(drafted(village, "warm_up", choice=Choice("odd-or-even", 10, 2, "core"), date=day(-4)))
    drafted(village, "main_task", choice=Choice("halving", 10, 2, "core"), date=day(-3))

    assert list(kinds_met(village.robins, MONDAY)) == ["doubling", "one-more"]
    assert last_set(village.robins, MONDAY)["odd-or-even"] == day(-4)


def test_only_known_kinds_and_those_of_the_route_are_recalled(village: Village):
    sequence = drafted_week(village, "halving", known=("one-more", "comparing"))

    met = {"one-more", "comparing"}
    for date in dates_of(sequence):
        assert own_part(sequence, date, "quick_recall").kind in met
        met.add(own_part(sequence, date).kind)


def last_years(village: Village) -> SchoolClass:
    year = SchoolYear.objects.create(
        school=village.school, starts=dt.date(2025, 9, 1), ends=dt.date(2026, 7, 20)
    )
    return SchoolClass.objects.create(year=year, name="Robins")


def test_last_years_sequence_is_copied_with_its_steps_and_words_and_new_prompts(
    village: Village,
):
    robins, village.robins = village.robins, last_years(village)
    first = dt.date(2025, 11, 24)
    source = drafted_week(village, "halving", first=first)
    words = Wording("Use the blue plates.", "two plates", "Is it fair?", "")
    task = own_part(source, first)
    reword_part(task, words, seen(village, task.day_plan, "lead"))
    village.robins = robins

    copied = copy(source, robins, MONDAY, village.people["teacher"])

    assert copied.focus == source.focus
    for before, after in zip(dates_of(source), dates_of(copied), strict=True):
        for part in Task.Part.values:
            one, two = own_part(source, before, part), own_part(copied, after, part)
            assert (one.kind, one.within, one.depth) == (two.kind, two.within, two.depth)
            assert (one.words, one.fetch, one.say) == (two.words, two.fetch, two.say)
    assert own_part(copied, MONDAY).words == words.words
    asked = [
        [key for each in Task.objects.filter(day_plan__sequence=one) for key in keys(each)]
        for one in (source, copied)
    ]
    assert asked[0] != asked[1]


def test_a_copy_gives_groups_versions_by_their_depth_now(village: Village):
    source = drafted_week(village, "adding")
    village.bens_group.delete()
    pears = village.robins.groups.create(name="Pears", depth="challenge")

    copied = copy(source, village.robins, day(14), village.people["teacher"])

    of_groups = Task.objects.filter(day_plan__sequence=copied).exclude(group=None)
    assert {task.group for task in of_groups} == {pears}


def test_a_copy_of_nothing_is_refused(village: Village):
    source = drafted_week(village)
    Task.objects.all().delete()

    with pytest.raises(PlanningError, match="Nothing is left"):
        copy(source, village.robins, day(14), village.people["teacher"])


def test_what_another_school_planned_is_not_there_to_copy(village: Village):
    drafted_week(village)
    larks = SchoolClass.objects.get(name="Larks")

    assert not Sequence.objects.of_school(larks.school).exists()
    assert Sequence.objects.of_school(village.school).with_days().exists()
