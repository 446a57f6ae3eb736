"""One step on from the last planned day, by one press."""

import datetime as dt

import pytest
from django.urls import reverse

from tasks.models import DayPlan, Task
from tasks.numberwork import ROUTES
from tasks.plans.next_step import offer_after
from tasks.plans.prompt_selection import Choice
from tests.tasks.builders import dates_of, drafted, drafted_week, gone_out, own_part
from tests.village import MONDAY, Village

TUESDAY = MONDAY + dt.timedelta(days=1)


def press(village: Village, signed_in, date: dt.date = TUESDAY) -> str:
    address = reverse("tasks:plan-step-on", args=[village.robins.pk, date])
    response = signed_in("teacher").post(f"{address}?version=0", follow=True)
    assert response.status_code == 200
    return response.content.decode()


def main_of(date: dt.date) -> Task:
    return Task.objects.get(day_plan__date=date, part="main_task", group=None)


def test_one_press_drafts_the_next_step_of_the_written_route(village: Village, signed_in):
    drafted(village, choice=Choice("doubling", 20, 4, "with support"))

    press(village, signed_in)

    main = main_of(TUESDAY)
    assert (main.kind, main.depth, main.within) == ("doubling", "core", 20)
    own = Task.objects.filter(day_plan__date=TUESDAY, group=None)
    assert {task.part for task in own} == set(Task.Part.values)
    assert all(task.prompts.count() == task.count for task in own)
    assert DayPlan.objects.get(date=TUESDAY).goes_out_at is None


def test_the_page_says_what_that_step_is_before_it_is_pressed(village: Village, signed_in):
    drafted(village, choice=Choice("doubling", 20, 4, "with support"))

    address = reverse("tasks:plan-day", args=[village.robins.pk, TUESDAY])
    page = signed_in("teacher").get(address).content.decode()

    assert "One step on from Monday 23 November" in page
    assert "That day: Doubling, easier." in page
    assert "Next comes the same, usual." in page


def test_the_next_day_asks_nothing_as_the_last_day_asked_it(village: Village, signed_in):
    drafted(village, choice=Choice("adding", 20, 5, "with support"))

    press(village, signed_in)

    after = Task.objects.filter(day_plan__date=TUESDAY)
    asked = {row.dress for task in after for row in task.prompts.all()}
    assert not asked & {row.dress for row in main_of(MONDAY).prompts.all()}


def test_groups_get_their_version_of_the_next_step(village: Village, signed_in):
    drafted(village, choice=Choice("doubling", 20, 4, "with support"))

    press(village, signed_in)

    own = Task.objects.get(day_plan__date=TUESDAY, group=village.bens_group)
    assert (own.part, own.kind, own.depth) == ("main_task", "doubling", "with support")


def test_after_a_day_of_a_sequence_it_goes_on_along_the_way_to_its_focus(village: Village):
    sequence = drafted_week(village, "halving", days=10)
    sharing = next(
        date for date in dates_of(sequence) if own_part(sequence, date).kind == "sharing-equally"
    )

    offer = offer_after(DayPlan.objects.select_related("sequence").get(date=sharing))

    assert (offer.focus, offer.step.kind, offer.step.depth) == (
        "halving",
        "halving",
        "with support",
    )


@pytest.mark.parametrize("focus", sorted(ROUTES))
def test_every_step_of_every_route_leads_to_the_next_and_the_last_to_what_builds_on_it(
    village: Village, focus: str
):
    steps = [step for step in ROUTES[focus].steps if step.kind == focus]
    for number, step in enumerate(steps):
        date = MONDAY + dt.timedelta(days=number)
        within = 100 if "fives" in focus or "tens" in focus else 20
        task = Task(kind=focus, depth=step.depth, within=within, count=1)
        plan = DayPlan.objects.create(school_class=village.robins, date=date)
        task.day_plan, task.part, task.seed = plan, "main_task", 1
        task.save()

        offer = offer_after(plan)

        place = ROUTES[focus].steps.index(step)
        rest = ROUTES[focus].steps[place + 1 :]
        assert offer.step == (rest[0] if rest else None)
        assert all(focus in ROUTES[name].before for name in offer.onward)


def test_at_the_end_of_a_route_the_page_offers_what_builds_on_it(village: Village, signed_in):
    gone_out(drafted(village, choice=Choice("doubling", 20, 4, "challenge")))

    address = reverse("tasks:plan-day", args=[village.robins.pk, TUESDAY])
    page = signed_in("teacher").get(address).content.decode()
    said = press(village, signed_in)

    new = reverse("tasks:sequence-new", args=[village.robins.pk])
    assert f"{new}?focus=halving&amp;first=2026-11-24" in page
    assert "There is no day before this one to go one step on from." in said
    assert not DayPlan.objects.filter(date=TUESDAY).exists()


def test_without_a_day_before_nothing_is_drafted_and_it_is_said(village: Village, signed_in):
    said = press(village, signed_in)

    assert "There is no day before this one" in said
    assert not DayPlan.objects.exists()
