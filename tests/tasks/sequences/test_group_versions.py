"""A group made after days were drafted gets its own main task on them, in one press."""

import datetime as dt

import pytest
from django.urls import reverse
from django.utils import timezone
from freezegun import freeze_time

from portal.people.models import Group
from tasks.cards.wording import Wording
from tasks.models import DayPlan, Sequence, Task
from tasks.numberwork.pool import pool_of
from tasks.plans.planning import (
    PlanningError,
    Seen,
    lock_part,
    put_back,
    redraw_prompt,
    reword_part,
)
from tasks.sequences.group_versions import fill_in, undo, waiting
from tests.tasks.builders import dates_of, drafted, drafted_week, own_part, queries_of
from tests.village import MONDAY, Village

pytestmark = pytest.mark.servers


@pytest.fixture(autouse=True)
def clock():
    """Let it be noon on the Friday before the week that is planned."""
    with freeze_time("2026-11-20 12:00") as clock:
        yield clock


@pytest.fixture
def no_group(village: Village) -> Village:
    """Let the class have no group while its days are drafted."""
    village.bens_group.delete()
    return village


def made(village: Village, name: str = "Pears", depth: str = "with support") -> Group:
    return Group.objects.create(school_class=village.robins, name=name, depth=depth)


def versions(group: Group) -> dict[dt.date, Task]:
    tasks = Task.objects.filter(group=group).select_related("day_plan").prefetch_related("prompts")
    return {task.day_plan.date: task for task in tasks}


def other_days(sequence: Sequence, depth: str) -> list[dt.date]:
    """Return the days on which the class works at another depth."""
    return [day for day in dates_of(sequence) if own_part(sequence, day).depth != depth]


def asked(task: Task) -> list[str]:
    return [row.dress for row in task.prompts.all()]


def test_a_group_made_later_gets_the_main_task_of_the_class_at_its_own_depth(no_group: Village):
    sequence = drafted_week(no_group, "halving", days=10)
    pears = made(no_group)

    days = fill_in(no_group.robins, no_group.people["teacher"])

    found = versions(pears)
    assert list(found) == other_days(sequence, "with support")
    assert days == len(found)
    for date, version in found.items():
        own = own_part(sequence, date)
        assert (version.kind, version.within, version.count) == (own.kind, own.within, own.count)
        assert version.depth == "with support"
        assert version.words == own.words


@pytest.mark.parametrize("focus", ["adding", "halving", "number-bonds"])
def test_it_has_as_many_prompts_as_the_class_about_the_numbers_of_the_class(
    no_group: Village, focus: str
):
    sequence = drafted_week(no_group, focus, days=10)
    pears = made(no_group, depth="challenge")

    fill_in(no_group.robins, no_group.people["teacher"])

    found, shared = versions(pears), 0
    for date, version in found.items():
        own = own_part(sequence, date)
        assert version.prompts.count() == version.count == own.prompts.count()
        in_reach = set(pool_of(own.kind, own.within, "challenge").facts)
        of_class = {row.fact for row in own.prompts.all()} & in_reach
        shared += not of_class or bool(of_class & {row.fact for row in version.prompts.all()})
    # All that the class has on a day can have been asked of the group the day before.
    assert shared > len(found) / 2


def test_the_class_s_own_work_and_days_that_are_set_stay_as_they_are(no_group: Village):
    sequence = drafted_week(no_group)
    before = {task.pk: asked(task) for task in Task.objects.all()}
    pears = made(no_group, depth="challenge")
    first, *others = other_days(sequence, "challenge")
    sequence.day_plans.filter(date=first).update(goes_out_at=timezone.now())

    assert [each.dates for each in waiting(no_group.robins)] == [others]
    fill_in(no_group.robins, no_group.people["teacher"])

    assert list(versions(pears)) == others
    assert {pk: asked(Task.objects.get(pk=pk)) for pk in before} == before
    assert waiting(no_group.robins) == []


def test_single_drafted_days_are_filled_too_and_days_gone_by_are_not(no_group: Village):
    drafted(no_group, date=MONDAY)
    drafted(no_group, date=MONDAY - dt.timedelta(days=4))
    drafted(no_group, "quick_recall", date=MONDAY + dt.timedelta(days=1))
    pears = made(no_group)

    fill_in(no_group.robins, no_group.people["teacher"])

    assert list(versions(pears)) == [MONDAY]


def test_a_group_that_works_as_the_class_does_waits_for_nothing(no_group: Village):
    drafted_week(no_group)
    made(no_group, depth="core")

    assert waiting(no_group.robins) == []
    with pytest.raises(PlanningError, match="has its main task"):
        fill_in(no_group.robins, no_group.people["teacher"])


def test_a_group_with_another_depth_gets_other_versions_and_a_usual_one_the_class_s(
    village: Village, clock
):
    sequence = drafted_week(village, "adding")
    clock.tick(60)
    group = village.bens_group
    Group.objects.filter(pk=group.pk).update(depth="challenge")

    fill_in(village.robins, village.people["teacher"])
    assert {task.depth for task in versions(group).values()} == {"challenge"}

    Group.objects.filter(pk=group.pk).update(depth="core")
    fill_in(village.robins, village.people["teacher"])
    assert versions(group) == {}
    assert len(dates_of(sequence)) == 5


def lock(task: Task, seen: Seen) -> None:
    lock_part(task, True, seen)


def reword(task: Task, seen: Seen) -> None:
    reword_part(task, Wording("Use the blue plates.", "", "", ""), seen)


def draw_another(task: Task, seen: Seen) -> None:
    redraw_prompt(task, 0, seen)


@pytest.mark.parametrize("change", [lock, reword, draw_another])
def test_what_a_teacher_changed_by_hand_is_not_overwritten(village: Village, change, clock):
    drafted_week(village, "adding")
    clock.tick(60)
    first, mine = next(iter(versions(village.bens_group).items()))
    change(mine, Seen(mine.day_plan.version, village.people["teacher"]))
    before = asked(Task.objects.get(pk=mine.pk))
    Group.objects.filter(pk=village.bens_group.pk).update(depth="challenge")

    [wait] = waiting(village.robins)
    fill_in(village.robins, village.people["teacher"])

    assert wait.by_hand == [first]
    assert asked(Task.objects.get(pk=mine.pk)) == before
    depths = [task.depth for task in versions(village.bens_group).values()]
    assert depths.count("with support") == 1
    assert "challenge" in depths


def test_it_is_taken_back_whole_until_a_day_is_changed(village: Village, clock):
    drafted_week(village, "adding")
    clock.tick(60)
    before = {date: asked(task) for date, task in versions(village.bens_group).items()}
    Group.objects.filter(pk=village.bens_group.pk).update(depth="challenge")
    pears = made(village)
    teacher = village.people["teacher"]
    fill_in(village.robins, teacher)
    clock.tick(60)
    filled = versions(pears)
    one = next(iter(filled.values()))
    lock_part(one, True, Seen(one.day_plan.version, teacher))

    days = undo(village.robins, teacher)

    assert days >= len(filled) - 1
    assert list(versions(pears)) == [one.day_plan.date]
    after = versions(village.bens_group)
    back = {date for date in before if date in after and asked(after[date]) == before[date]}
    assert back >= set(before) - {one.day_plan.date}
    with pytest.raises(PlanningError, match="nothing to take back"):
        undo(village.robins, teacher)


def test_on_the_day_itself_it_can_be_taken_back_alone(no_group: Village):
    drafted_week(no_group)
    pears = made(no_group)
    fill_in(no_group.robins, no_group.people["teacher"])
    before = list(versions(pears))
    plan = DayPlan.objects.get(date=before[0])

    put_back(plan, Seen(plan.version, no_group.people["teacher"]))

    assert list(versions(pears)) == before[1:]


def test_making_a_group_offers_it_and_one_press_does_it_and_one_undoes_it(
    no_group: Village, signed_in
):
    days = len(other_days(drafted_week(no_group), "challenge"))
    teacher = signed_in("teacher")
    groups = reverse("tasks:groups", args=[no_group.robins.pk])
    press = reverse("tasks:groups-fill-in", args=[no_group.robins.pk])
    assert "Days drafted before" not in teacher.get(groups).content.decode()

    page = teacher.post(groups, {"name": "Pears", "depth": "challenge"}, follow=True)
    offered = page.content.decode()
    assert f"Pears on {days} days" in offered
    assert "Mon 23 Nov, Tue 24 Nov" in offered
    page = teacher.post(press, follow=True).content.decode()
    assert f"Groups have their own main task now on {days} days." in page
    assert "Draft it for them" not in page

    page = teacher.post(f"{press}undo/", follow=True).content.decode()
    assert f"{days} days are as they were before." in page
    assert not Task.objects.exclude(group=None).exists()


def test_on_the_page_of_a_sequence_only_its_days_are_filled(no_group: Village, signed_in):
    sequence = drafted_week(no_group)
    drafted_week(no_group, "adding", first=MONDAY + dt.timedelta(days=7))
    pears = made(no_group)
    press = reverse("tasks:groups-fill-in", args=[no_group.robins.pk])

    page = signed_in("teacher").post(f"{press}?sequence={sequence.pk}", follow=True)

    days = other_days(sequence, "with support")
    assert list(versions(pears)) == days
    said = f"Groups have their own main task now on {len(days)} days"
    assert said in page.content.decode()


def test_a_sequence_of_another_class_is_not_found(no_group: Village, signed_in):
    press = reverse("tasks:groups-fill-in", args=[no_group.robins.pk])
    for sequence in ("0", "x", "99999"):
        response = signed_in("teacher").post(f"{press}?sequence={sequence}")
        assert response.status_code == 404


def test_the_offer_costs_the_same_queries_for_one_group_and_for_five(no_group: Village, signed_in):
    drafted_week(no_group, days=10)
    lead = signed_in("lead")
    groups = reverse("tasks:groups", args=[no_group.robins.pk])
    made(no_group)
    before = queries_of(lead, groups)
    for number in range(4):
        made(no_group, f"Group {number}", "challenge")

    assert queries_of(lead, groups) == before
