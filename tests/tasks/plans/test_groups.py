"""Keeping groups: who is in which, at which depth, and never in two."""

import pytest
from django.urls import reverse

from portal.people.models import Group
from tasks.models import Task
from tasks.plans.forms.groups import GroupForm
from tasks.plans.groups import keep_group, remove_group
from tasks.plans.planning import PlanningError
from tests.tasks.builders import drafted, drafted_week, gone_out, queries_of
from tests.village import Village, make_child

pytestmark = pytest.mark.servers


def groups_of(village: Village) -> str:
    return reverse("tasks:groups", args=[village.robins.pk])


def group_of(village: Village, group: Group) -> str:
    return reverse("tasks:group", args=[village.robins.pk, group.pk])


def press(client, address: str, **fields: object) -> str:
    response = client.post(address, fields, follow=True)
    assert response.status_code == 200
    return response.content.decode()


def test_a_group_is_made_renamed_and_given_another_depth(village: Village, signed_in):
    teacher = signed_in("teacher")

    press(teacher, groups_of(village), name="Pears", depth="challenge", children=village.aisha.pk)
    pears = Group.objects.get(name="Pears")
    press(teacher, group_of(village, pears), name="Plums", depth="core", children=village.aisha.pk)

    plums = Group.objects.get(pk=pears.pk)
    assert (plums.name, plums.depth, plums.school_class) == ("Plums", "core", village.robins)
    assert list(plums.children.all()) == [village.aisha]


def test_a_child_ticked_in_another_group_leaves_the_first_and_it_is_said(
    village: Village, signed_in
):
    teacher = signed_in("teacher")
    page = teacher.get(groups_of(village)).content.decode()
    assert "Ben T, now in Apples" in page

    said = press(teacher, groups_of(village), name="Pears", depth="core", children=village.ben.pk)

    assert "Ben T left Apples." in said
    assert [group.name for group in village.ben.groups.all()] == ["Pears"]


def test_no_child_is_ever_in_two_groups_of_a_class(village: Village):
    pears = Group(school_class=village.robins, name="Pears")

    keep_group(pears, [village.aisha, village.ben])
    keep_group(village.bens_group, [village.ben])

    assert list(pears.children.all()) == [village.aisha]
    assert list(village.bens_group.children.all()) == [village.ben]


def test_a_group_of_another_class_keeps_its_children(village: Village):
    others = Group.objects.create(school_class=village.wrens, name="Reds")
    others.children.add(village.cal)

    keep_group(Group(school_class=village.robins, name="Pears"), [village.aisha])

    assert list(others.children.all()) == [village.cal]


def test_only_children_of_the_class_can_be_ticked(village: Village):
    data = {"name": "Pears", "depth": "core", "children": [village.cal.pk]}

    form = GroupForm(data, school_class=village.robins)

    assert "children" in form.errors


def test_two_groups_of_a_class_have_two_names(village: Village):
    form = GroupForm({"name": "apples", "depth": "core"}, school_class=village.robins)
    with pytest.raises(PlanningError, match="a group of that name"):
        keep_group(Group(school_class=village.robins, name="Apples"), [])

    assert "There is a group of that name" in form.errors["name"][0]
    assert GroupForm({"name": "Apples", "depth": "core"}, school_class=village.wrens).is_valid()


def test_a_group_keeps_its_own_name(village: Village):
    form = GroupForm(
        {"name": "Apples", "depth": "challenge"},
        instance=village.bens_group,
        school_class=village.robins,
    )

    assert form.is_valid(), form.errors


def test_a_removed_group_takes_its_drafts_along_and_nothing_else(village: Village, signed_in):
    sequence = drafted_week(village, "adding")
    assert Task.objects.filter(group=village.bens_group).exists()

    remove = reverse("tasks:group-remove", args=[village.robins.pk, village.bens_group.pk])
    said = press(signed_in("teacher"), remove)

    assert "Apples is removed." in said
    tasks = Task.objects.filter(day_plan__sequence=sequence)
    assert tasks.count() == 25
    assert not tasks.exclude(group=None).exists()


def test_a_group_for_which_work_was_set_stays_and_it_is_said_what_to_do(village: Village):
    gone_out(drafted(village, group=village.bens_group))

    with pytest.raises(PlanningError, match="Untick its children"):
        remove_group(village.bens_group)

    assert Task.objects.filter(group=village.bens_group).exists()


@pytest.mark.parametrize("role", ["assistant", "other teacher", "office", "family", "foreign lead"])
def test_only_who_plans_for_the_class_keeps_its_groups(village: Village, signed_in, role: str):
    client = signed_in(role)
    remove = reverse("tasks:group-remove", args=[village.robins.pk, village.bens_group.pk])

    for address in (groups_of(village), group_of(village, village.bens_group), remove):
        response = client.post(address, {"name": "Mine", "depth": "core"})
        assert response.status_code == 404
    assert Group.objects.get().name == "Apples"


def test_a_group_of_another_class_is_not_found(village: Village, signed_in):
    reds = Group.objects.create(school_class=village.wrens, name="Reds")

    assert signed_in("teacher").get(group_of(village, reds)).status_code == 404


def test_the_pages_of_groups_cost_the_same_queries_for_three_children_and_for_thirty(
    village: Village, signed_in
):
    lead = signed_in("lead")
    pages = (groups_of(village), group_of(village, village.bens_group))
    Group.objects.create(school_class=village.robins, name="Pears")
    lead.get(pages[0])
    before = [queries_of(lead, page) for page in pages]

    for number in range(27):
        child = make_child(village.robins, f"Child{number}", "K")
        group, _made = Group.objects.get_or_create(
            school_class=village.robins, name=f"Group {number % 5}"
        )
        group.children.add(child)

    assert [queries_of(lead, page) for page in pages] == before
