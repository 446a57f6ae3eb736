"""From a gap to a drafted day, and from suggested groups to groups."""

import datetime as dt

import pytest
from freezegun import freeze_time

from assessment.models import GroupsUsed
from evidence.models import Submission
from portal.people.models import Closure, Group
from tasks.models import DayPlan, Task
from tests.assessment.builders import fill_class, send, set_day
from tests.assessment.progress.builders import shown
from tests.village import MONDAY

WEDNESDAY = "2026-11-25 15:00"
THURSDAY = dt.date(2026, 11, 26)


@pytest.fixture
def wednesday(village):
    """Stop the clock on a Wednesday afternoon."""
    with freeze_time(WEDNESDAY):
        yield village


def press(client, village, **data):
    """Press a button of the gaps page and give the day it leads to."""
    answer = client.post(f"/classes/{village.robins.pk}/gaps/draft/", data)
    assert answer.status_code == 302
    return answer.url


def drafted(school_class, day, kinds):
    """Put a day together without setting it."""
    plan = set_day(school_class, day, kinds)
    DayPlan.objects.filter(pk=plan.pk).update(goes_out_at=None)


def parts_on(village, day):
    tasks = Task.objects.filter(day_plan__school_class=village.robins, day_plan__date=day)
    return {(task.part, task.group_id): task.kind for task in tasks}


def test_one_press_drafts_the_next_school_day_around_the_kind(wednesday, signed_in):
    url = press(signed_in("teacher"), wednesday, kind="comparing", recall="ordering")
    assert url == f"/classes/{wednesday.robins.pk}/plan/{THURSDAY}/"
    parts = parts_on(wednesday, THURSDAY)
    assert parts["main_task", None] == "comparing"
    assert parts["quick_recall", None] == "ordering"
    plan = DayPlan.objects.get(date=THURSDAY)
    assert plan.goes_out_at is None
    assert plan.focus == "Comparing"


def test_a_day_that_has_a_main_task_is_passed_over_and_kept(wednesday, signed_in):
    set_day(wednesday.robins, THURSDAY)
    url = press(signed_in("teacher"), wednesday, kind="comparing")
    assert url.endswith("/plan/2026-11-27/")
    assert parts_on(wednesday, THURSDAY) == {("main_task", None): "halving"}


def test_days_without_school_are_passed_over(wednesday, signed_in):
    Closure.objects.create(
        school=wednesday.school, name="Training", first=THURSDAY, last=dt.date(2026, 11, 29)
    )
    assert press(signed_in("teacher"), wednesday, kind="comparing").endswith("/plan/2026-11-30/")


def test_a_day_that_is_set_is_passed_over_as_families_may_see_it(wednesday, signed_in):
    set_day(wednesday.robins, THURSDAY, ("one-more",))
    assert press(signed_in("teacher"), wednesday, kind="comparing").endswith("/plan/2026-11-27/")


def test_a_long_holiday_is_passed_over_and_the_years_end_is_not(wednesday, signed_in):
    year = wednesday.robins.year
    holiday = Closure.objects.create(
        school=wednesday.school, name="Winter", first=THURSDAY, last=dt.date(2027, 1, 31)
    )
    client = signed_in("teacher")
    assert press(client, wednesday, kind="comparing").endswith("/plan/2027-02-01/")
    DayPlan.objects.all().delete()
    Closure.objects.filter(pk=holiday.pk).update(last=year.ends)
    assert press(client, wednesday, kind="comparing").endswith("/gaps/")
    assert not DayPlan.objects.exists()


def test_a_groups_work_on_a_day_that_is_set_says_so(wednesday, signed_in):
    set_day(wednesday.robins, THURSDAY)
    client = signed_in("teacher")
    press(client, wednesday, kind="comparing", group=wednesday.bens_group.pk)
    page = client.get(f"/classes/{wednesday.robins.pk}/plan/{THURSDAY}/").content.decode()
    assert "which is set" in page


def test_what_stands_on_the_day_already_stays(wednesday, signed_in):
    drafted(wednesday.robins, THURSDAY, ("one-more",))
    press(signed_in("teacher"), wednesday, kind="comparing", recall="ordering")
    assert parts_on(wednesday, THURSDAY)["quick_recall", None] == "one-more"


def test_a_groups_own_main_task_stands_beside_the_classs(wednesday, signed_in):
    set_day(wednesday.robins, THURSDAY)
    press(signed_in("teacher"), wednesday, kind="comparing", group=wednesday.bens_group.pk)
    assert parts_on(wednesday, THURSDAY) == {
        ("main_task", None): "halving",
        ("main_task", wednesday.bens_group.pk): "comparing",
    }


def test_the_numbers_go_as_far_as_the_class_had_the_kind_last(wednesday, signed_in):
    set_day(wednesday.robins, MONDAY)
    press(signed_in("teacher"), wednesday, kind="halving")
    assert Task.objects.get(part="main_task", day_plan__date=THURSDAY).within == 20


@pytest.mark.parametrize("data", [{}, {"kind": "no such kind"}, {"kind": "halving", "group": 9999}])
def test_what_makes_no_sense_drafts_nothing(wednesday, signed_in, data):
    assert press(signed_in("teacher"), wednesday, **data).endswith("/gaps/")
    assert not DayPlan.objects.exists()


def test_another_classs_group_is_not_there(wednesday, signed_in):
    theirs = Group.objects.create(school_class=wednesday.wrens, name="Theirs")
    press(signed_in("teacher"), wednesday, kind="halving", group=theirs.pk)
    assert not Task.objects.filter(group=theirs).exists()


def groups_page(client, village, size=3):
    answer = client.get(f"/classes/{village.robins.pk}/next-groups/?size={size}")
    return answer.context["suggested"]


def use(client, village, groups, **names):
    data = {f"children-{place}": group.keys for place, group in enumerate(groups)}
    data |= {
        f"name-{place}": names.get(f"name{place}", group.name) for place, group in enumerate(groups)
    }
    return client.post(f"/classes/{village.robins.pk}/next-groups/use/", data)


def membership(village):
    return {
        group.name: sorted(child.first_name for child in group.children.all())
        for group in village.robins.groups.all()
    }


@pytest.fixture
def shared(wednesday):
    """Let two children share a mistake, two a goal, and a fifth have nothing yet."""
    first, second, third = fill_class(wednesday, 3)
    for place in range(2):
        plan = set_day(wednesday.robins, MONDAY + dt.timedelta(days=place))
        for child in (wednesday.aisha, first):
            send(child, wednesday.first_home, plan, answers="doubled")
    for child in (second, third):
        shown(wednesday, child, "n", code="ELG-NUM-2")
    return wednesday


def test_groups_share_a_mistake_or_a_goal_and_say_so(shared, signed_in):
    found = {
        group.why: [child.first_name for child in group.children]
        for group in groups_page(signed_in("teacher"), shared, 2)
    }
    assert found["Said double instead of half"] == ["Aisha", "Child0"]
    assert ["Child1", "Child2"] in found.values()
    assert sum(map(len, found.values())) == 4


def test_of_whom_nothing_is_known_is_in_no_suggested_group_and_stays_where_it_is(shared, signed_in):
    client = signed_in("teacher")
    use(client, shared, groups_page(client, shared, 2))
    assert membership(shared)["Apples"] == ["Ben"]
    page = client.get(f"/classes/{shared.robins.pk}/next-groups/")
    assert [child.first_name for child in page.context["not_known"]] == ["Ben"]


def test_a_class_of_which_nothing_is_known_is_told_what_to_do(wednesday, signed_in):
    client = signed_in("teacher")
    page = client.get(f"/classes/{wednesday.robins.pk}/next-groups/")
    assert page.context["suggested"] == []
    assert "Look at what came in and tag it" in page.content.decode()


def test_what_was_found_half_a_term_ago_makes_no_group(shared, signed_in):
    with freeze_time("2027-01-25 15:00"):
        page = signed_in("teacher").get(f"/classes/{shared.robins.pk}/next-groups/")
    assert page.context["suggested"] == []


def test_a_mistake_only_one_child_makes_is_named_for_that_child(shared, signed_in):
    Submission.objects.filter(child__first_name="Child0").delete()
    named = {
        child.first_name: dict(group.also).get(child, group.why)
        for group in groups_page(signed_in("teacher"), shared, 6)
        for child in group.children
    }
    assert named["Aisha"] == "Said double instead of half"


def test_using_them_makes_the_groups_and_moves_each_child_into_one(shared, signed_in):
    client = signed_in("teacher")
    suggested = groups_page(client, shared, 2)
    use(client, shared, suggested, name0="Kitchen")
    found = membership(shared)
    assert found["Kitchen"] == sorted(child.first_name for child in suggested[0].children)
    assert found["Apples"] == ["Ben"]  # of whom nothing is known: it stays
    everybody = sorted(name for names in found.values() for name in names)
    assert everybody == ["Aisha", "Ben", "Child0", "Child1", "Child2"]


def test_a_group_of_the_same_name_keeps_its_depth_and_its_work(shared, signed_in):
    client = signed_in("teacher")
    use(client, shared, groups_page(client, shared, 2), name0="Apples")
    apples = shared.robins.groups.get(name="Apples")
    assert (apples.pk, apples.depth) == (shared.bens_group.pk, "with support")


def test_undo_puts_every_child_back(shared, signed_in):
    client = signed_in("teacher")
    before = membership(shared)
    use(client, shared, groups_page(client, shared, 2))
    used = GroupsUsed.objects.get()
    client.post(f"/classes/{shared.robins.pk}/next-groups/undo/{used.pk}/")
    assert membership(shared) == before
    assert GroupsUsed.objects.get().undone_at is not None


def test_undo_keeps_a_new_group_for_which_work_was_planned(shared, signed_in):
    client = signed_in("teacher")
    use(client, shared, groups_page(client, shared, 2), name0="Kitchen")
    kitchen = shared.robins.groups.get(name="Kitchen")
    press(client, shared, kind="comparing", group=kitchen.pk)
    client.post(f"/classes/{shared.robins.pk}/next-groups/undo/{GroupsUsed.objects.get().pk}/")
    assert membership(shared) == {"Apples": ["Ben"], "Kitchen": []}


def test_only_the_last_use_is_undone(shared, signed_in):
    client = signed_in("teacher")
    for size in (2, 5):
        use(client, shared, groups_page(client, shared, size))
    first = GroupsUsed.objects.last()
    now = membership(shared)
    client.post(f"/classes/{shared.robins.pk}/next-groups/undo/{first.pk}/")
    assert membership(shared) == now


@pytest.mark.parametrize("wrong", ["another class's child", "a child twice", "one name twice"])
def test_groups_that_are_not_the_classs_change_nothing(shared, signed_in, wrong):
    before = membership(shared)
    aisha, ben = str(shared.aisha.pk), str(shared.ben.pk)
    data = {"name-0": "A", "children-0": aisha, "name-1": "B", "children-1": ben}
    data |= {
        "another class's child": {"children-1": str(shared.cal.pk)},
        "a child twice": {"children-1": aisha},
        "one name twice": {"name-1": "A"},
    }[wrong]
    signed_in("teacher").post(f"/classes/{shared.robins.pk}/next-groups/use/", data)
    assert membership(shared) == before


def test_a_size_that_makes_no_sense_gives_the_usual_one(shared, signed_in):
    for size in ("0", "1", "99", "x"):
        answer = signed_in("teacher").get(f"/classes/{shared.robins.pk}/next-groups/?size={size}")
        assert answer.context["size"] == 6
