"""A version of a part is given to several groups in one press, and taken back in one."""

import pytest
from django.urls import reverse

from portal.people.models import Group
from tasks.models import DayPlan, Task
from tasks.numberwork.pool import pool_of
from tasks.plans.planning import PlanningError, give_groups, put_back, redraw_part
from tasks.plans.prompt_selection import Choice
from tests.tasks.builders import drafted, gone_out, keys, seen, send_work
from tests.village import MONDAY, Village

pytestmark = pytest.mark.servers
ADDING = Choice("adding", 10, 4, "core")


def with_groups(village: Village) -> list[Group]:
    """Make two more groups; the first two of the three work equally hard."""
    plums = Group.objects.create(school_class=village.robins, name="Plums", depth="with support")
    pears = Group.objects.create(school_class=village.robins, name="Pears", depth="challenge")
    return [village.bens_group, plums, pears]


def version_of(group: Group) -> Task:
    return Task.objects.get(group=group)


def press(client, task: Task, version: int, **fields: object) -> str:
    where = [task.day_plan.school_class_id, task.day_plan.date, task.pk]
    address = reverse("tasks:part-for-groups", args=where)
    return client.post(f"{address}?version={version}", fields, follow=True).content.decode()


def test_ticked_groups_get_their_own_version_each_as_hard_as_it_works(village: Village, signed_in):
    plan, groups = drafted(village, choice=ADDING), with_groups(village)
    own = plan.tasks.get()

    page = press(signed_in("teacher"), own, plan.version, groups=[group.pk for group in groups])

    assert "Groups have their own version now." in page
    assert [version_of(group).depth for group in groups] == [group.depth for group in groups]
    assert {version_of(group).prompts.count() for group in groups} == {4}


def test_groups_that_work_equally_hard_get_the_same_questions(village: Village):
    plan, groups = drafted(village, choice=ADDING), with_groups(village)
    apples, plums, pears = groups

    give_groups(plan.tasks.get(), groups, seen(village, plan))

    assert keys(version_of(apples)) == keys(version_of(plums)) != keys(version_of(pears))


def test_a_version_is_about_numbers_that_the_class_has_that_day(village: Village):
    plan, [apples, *_others] = drafted(village, choice=ADDING), with_groups(village)
    own = plan.tasks.get()
    redraw_part(own, seen(village, plan))

    give_groups(own, [apples], seen(village, DayPlan.objects.get()))

    facts = {row.fact for row in version_of(apples).prompts.all()}
    in_reach = set(pool_of(own.kind, own.within, apples.depth).facts)
    of_class = {row.fact for row in own.prompts.all()} & in_reach
    assert facts & of_class or not of_class


def test_other_groups_get_the_very_same_as_a_group_has(village: Village, signed_in):
    plan, [apples, plums, pears] = drafted(village, choice=ADDING), with_groups(village)
    give_groups(plan.tasks.get(), [apples], seen(village, plan))
    Task.objects.filter(group=apples).update(words="Use the blue plates.", locked=True)

    press(signed_in("teacher"), version_of(apples), plan.version + 1, groups=[plums.pk, pears.pk])

    for group in (plums, pears):
        assert keys(version_of(group)) == keys(version_of(apples))
        assert version_of(group).words == "Use the blue plates."
        assert not version_of(group).locked


def test_one_press_takes_all_of_them_back(village: Village):
    plan, groups = drafted(village, choice=ADDING), with_groups(village)
    give_groups(plan.tasks.get(), groups, seen(village, plan))

    put_back(plan, seen(village, DayPlan.objects.get()))

    assert Task.objects.get().group is None


@pytest.mark.parametrize("ticked", [[], ["x"], ["0"]])
def test_without_a_group_it_is_said_what_to_do(village: Village, signed_in, ticked: list[str]):
    plan = drafted(village)

    page = press(signed_in("teacher"), plan.tasks.get(), plan.version, groups=ticked)

    assert "Tick at least one group." in page
    assert Task.objects.count() == 1


def test_a_group_of_another_class_and_one_that_has_a_version_get_none(village: Village, signed_in):
    plan = drafted(village)
    reds = Group.objects.create(school_class=village.wrens, name="Reds")
    own = plan.tasks.get()

    page = press(signed_in("teacher"), own, plan.version, groups=[reds.pk])
    assert "Tick at least one group." in page
    give_groups(own, [village.bens_group], seen(village, plan))
    with pytest.raises(PlanningError, match="its own version already"):
        give_groups(own, [village.bens_group], seen(village, DayPlan.objects.get()))

    assert Task.objects.count() == 2


def test_once_work_was_sent_no_group_gets_another(village: Village):
    plan = gone_out(drafted(village))
    own = plan.tasks.get()
    send_work(village, plan, own)

    with pytest.raises(PlanningError, match="no group can be given another"):
        give_groups(own, [village.bens_group], seen(village, plan))


def test_the_day_offers_groups_to_tick_at_each_part(village: Village, signed_in):
    plan, groups = drafted(village, "main_task", "quick_recall"), with_groups(village)
    give_groups(plan.tasks.get(part="main_task"), groups[:1], seen(village, plan))
    day = reverse("tasks:plan-day", args=[village.robins.pk, MONDAY])

    page = signed_in("teacher").get(day).content.decode()

    ticks = page.count('name="groups"')
    assert ticks == 2 + 3 + 2  # of the class's main task, its recall, and the version of Apples
    assert "The same for other groups" in page
