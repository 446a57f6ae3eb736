"""Choosing what to print, and getting it: for teachers by class, for families by child."""

import datetime as dt

import pytest
from django.test import Client
from django.urls import reverse
from freezegun import freeze_time

from portal.people.models import Group, SchoolClass
from tasks.models import DayPlan, Task
from tasks.plans.prompt_selection import Choice
from tasks.printing.of_plan import Shelf, tasks_of
from tests.square_codes import printed_codes
from tests.tasks.builders import drafted, gone_out, queries_of
from tests.tasks.printing.reading import page_words, sizes, words
from tests.village import MONDAY, Village, make_child

TUESDAY = MONDAY + dt.timedelta(days=1)
NUMBER = Choice("number-of-the-day", 10, 3, "core")
EASIER = Choice("halving", 10, 2, "with support")  # nothing else of that day asks it
ASKED = {"span": "day", "date": "2026-11-23", "who": "class", "sheets": "cards", "paper": "a4"}


@pytest.fixture(autouse=True)
def monday_morning():
    """Let it be Monday, eight in the morning."""
    with freeze_time("2026-11-23 08:00"):
        yield


def ask(client: Client, school_class: SchoolClass, **choices: object):
    """Ask for a file as the form does."""
    address = reverse("tasks:print-pdf", args=[school_class.pk])
    return client.get(address, ASKED | choices)


def card(village: Village, date: dt.date = MONDAY) -> str:
    return reverse("tasks:card-print", args=[village.aisha.pk, date])


def test_a_teacher_prints_a_day_from_its_plan(village: Village, signed_in):
    plan = drafted(village, "warm_up", "main_task")
    teacher = signed_in("teacher")

    day = teacher.get(reverse("tasks:plan-day", args=[village.robins.pk, MONDAY]))
    form = teacher.get(reverse("tasks:print", args=[village.robins.pk]), {"date": MONDAY})
    response = ask(teacher, village.robins)

    assert f"/classes/{village.robins.pk}/print/?date=2026-11-23" in day.content.decode()
    assert 'value="2026-11-23"' in form.content.decode()
    assert response["Content-Type"] == "application/pdf"
    assert response["Content-Disposition"] == 'attachment; filename="number-work-2026-11-23.pdf"'
    assert "no-store" in response["Cache-Control"]
    text = words(response.content)
    assert "Main task" in text
    for row in plan.tasks.get(part="main_task").prompts.all():
        assert row.sentence.replace("□", "").strip() in text.replace("  ", " ")


def test_a_week_is_printed_day_by_day(village: Village, signed_in):
    drafted(village)
    drafted(village, date=TUESDAY)
    teacher = signed_in("teacher")

    week = teacher.get(reverse("tasks:plan-week", args=[village.robins.pk]))
    response = ask(teacher, village.robins, span="week", date="2026-11-25")

    assert "?date=2026-11-23&amp;span=week" in week.content.decode()
    assert "number-work-2026-W48.pdf" in response["Content-Disposition"]
    text = words(response.content)
    assert text.index("Monday 23 November") < text.index("Tuesday 24 November")


def test_a_class_is_sent_to_the_page_where_every_family_starts(village: Village, signed_in):
    drafted(village)

    response = ask(signed_in("teacher"), village.robins)

    assert set(printed_codes(response.content)) == {"http://localhost:8000/today/"}


def test_a_childs_own_code_leads_to_sending_that_days_work(village: Village, signed_in):
    drafted(village)

    response = ask(signed_in("teacher"), village.robins, who=f"child-{village.ben.pk}")

    address = reverse("evidence:send", args=[village.ben.pk, MONDAY])
    assert set(printed_codes(response.content)) == {f"http://localhost:8000{address}"}
    assert "Ben" not in words(response.content)


def test_names_are_printed_only_when_asked_for_and_then_one_set_a_child(
    village: Village, signed_in
):
    drafted(village)
    teacher = signed_in("teacher")

    plain = words(ask(teacher, village.robins).content)
    named = page_words(ask(teacher, village.robins, names="on").content)

    assert "Aisha" not in plain
    assert "Ben" not in plain
    assert [name for text in named for name in ("Aisha", "Ben") if name in text] == [
        "Aisha",
        "Ben",
    ]


def test_a_first_name_is_all_that_is_printed_of_a_name(village: Village, signed_in):
    drafted(village)

    response = ask(signed_in("teacher"), village.robins, names="on", who=f"child-{village.ben.pk}")

    assert "Ben" in words(response.content)
    assert "Ben T" not in words(response.content)
    assert b"Ben" not in response.content  # nor in what the file says of itself


def test_a_group_and_each_of_its_children_get_the_groups_own_part(village: Village, signed_in):
    drafted(village)
    plan = drafted(village, group=village.bens_group, choice=EASIER)
    own = plan.tasks.get(group=village.bens_group)
    teacher = signed_in("teacher")

    for_group = words(ask(teacher, village.robins, who=f"group-{village.bens_group.pk}").content)
    for_ben = words(ask(teacher, village.robins, who=f"child-{village.ben.pk}").content)
    for_all = words(ask(teacher, village.robins).content)

    assert own.prompts.count() == 2
    assert "Apples" in for_group
    assert "Apples" not in for_ben
    spoken = [row.spoken for row in own.prompts.all()]
    assert all(said in for_group and said in for_ben for said in spoken)
    assert not all(said in for_all for said in spoken)


def test_paper_gets_the_tasks_that_the_screen_does(village: Village):
    """The choice made for many children at once is that of `Task.objects.for_child`."""
    other = Group.objects.create(school_class=village.robins, name="Pears")
    for group in (None, other, village.bens_group):
        drafted(village, "main_task", group=group, choice=Choice("doubling", 10, 1, "core"))
    plan = drafted(village, "warm_up", group=other, choice=Choice("halving", 10, 1, "core"))
    shelf = Shelf([plan], list(tasks_of([plan])))
    village.ben.groups.add(other)

    for child in (village.aisha, village.ben):
        groups = frozenset(group.pk for group in child.groups.all())
        on_screen = set(Task.objects.filter(day_plan=plan).for_child(child))
        assert set(shelf.tasks_for(plan, groups)) == on_screen


def test_the_mat_is_for_the_plans_own_number(village: Village, signed_in):
    plan = drafted(village, "number_of_the_day", choice=NUMBER)
    number = plan.tasks.get().prompts.first().prompt.numbers[0]

    response = ask(signed_in("teacher"), village.robins, sheets="mat")

    assert f"Number of the day: {number}" in words(response.content)


@pytest.mark.parametrize(
    ("choices", "told"),
    [
        ({"date": "2026-11-24"}, "Nothing is planned for Tuesday 24 November yet. Plan it first"),
        ({"date": "2026-12-02", "span": "week"}, "the week from Monday 30 November"),
        ({"sheets": "mat"}, "There is no number of the day for Monday 23 November."),
        ({"sheets": []}, "Tick at least one sheet."),
        ({"date": "soon"}, "Enter a valid date"),
        ({"who": "child-0"}, "Select a valid choice"),
    ],
)
def test_a_teacher_is_told_what_to_mend(village: Village, signed_in, choices, told):
    drafted(village)

    response = ask(signed_in("teacher"), village.robins, **choices)

    assert response.status_code == 422
    assert told in response.content.decode()


def test_sheets_for_any_day_need_no_plan(village: Village, signed_in):
    shared = ["hundred-square", "number-lines", "number-cards"]

    response = ask(signed_in("teacher"), village.robins, sheets=shared, paper="letter")

    assert sizes(response.content) == {(215.9, 279.4)}
    assert len(page_words(response.content)) == 4


def test_number_cards_go_to_twenty_when_the_work_does(village: Village, signed_in):
    drafted(village, choice=Choice("doubling", 20, 2, "core"))

    response = ask(signed_in("teacher"), village.robins, sheets="number-cards")

    assert "20" in words(response.content)


def test_names_for_a_class_without_children_are_refused(village: Village, signed_in):
    drafted(village)
    village.robins.children.update(school_class=None)

    response = ask(signed_in("teacher"), village.robins, names="on")

    assert "There are no children here yet." in response.content.decode()


def test_more_than_a_file_can_hold_is_refused_before_it_is_made(village: Village, signed_in):
    for place in range(11):
        make_child(village.robins, f"Child {place}", "")
    for place in range(5):
        drafted(village, date=MONDAY + dt.timedelta(days=place))

    response = ask(signed_in("teacher"), village.robins, span="week", names="on")

    assert response.status_code == 422
    assert "Print one day, or one group, at a time." in response.content.decode()


def test_a_child_or_group_of_another_class_cannot_be_chosen(village: Village, signed_in):
    drafted(village)
    theirs = Group.objects.create(school_class=village.wrens, name="Plums")
    teacher = signed_in("teacher")

    for who in (f"child-{village.cal.pk}", f"child-{village.dot.pk}", f"group-{theirs.pk}"):
        assert ask(teacher, village.robins, who=who).status_code == 422


@pytest.mark.parametrize(
    ("role", "status"),
    [
        ("teacher", 200),
        ("assistant", 200),
        ("lead", 200),
        ("other teacher", 404),
        ("office", 404),
        ("foreign lead", 404),
        ("family", 404),
    ],
)
def test_only_those_who_teach_a_class_print_for_it(village: Village, signed_in, role, status):
    drafted(village)

    page = signed_in(role).get(reverse("tasks:print", args=[village.robins.pk]))

    assert page.status_code == status
    assert ask(signed_in(role), village.robins).status_code == status


def test_a_family_prints_the_card_it_sees(village: Village, signed_in):
    gone_out(drafted(village, "warm_up", "main_task"))
    family = signed_in("family")

    screen = family.get(reverse("tasks:card", args=[village.aisha.pk, MONDAY])).content.decode()
    response = family.get(card(village))

    assert card(village) in screen
    assert response["Content-Type"] == "application/pdf"
    assert "number-work-2026-11-23.pdf" in response["Content-Disposition"]
    assert sizes(response.content) == {(210.0, 297.0)}
    text = words(response.content)
    assert "Aisha" not in text
    for said in ("Warm-up count", "Main task", "Answers", "For the adult"):
        assert said in text
    address = reverse("evidence:send", args=[village.aisha.pk, MONDAY])
    assert set(printed_codes(response.content)) == {f"http://localhost:8000{address}"}


def test_a_family_chooses_its_paper(village: Village, signed_in):
    gone_out(drafted(village))

    response = signed_in("family").get(card(village), {"paper": "letter"})

    assert sizes(response.content) == {(215.9, 279.4)}


def test_a_family_cannot_print_what_has_not_gone_out(village: Village, signed_in):
    drafted(village)

    assert signed_in("family").get(card(village)).status_code == 404
    assert signed_in("family").get(card(village, TUESDAY)).status_code == 404


@pytest.mark.parametrize("role", ["other family", "foreign family", "teacher", "office"])
def test_nobody_else_prints_a_childs_card(village: Village, signed_in, role):
    gone_out(drafted(village))

    assert signed_in(role).get(card(village)).status_code == 404


def test_a_day_with_nothing_for_this_child_is_not_printed(village: Village, signed_in):
    gone_out(drafted(village, group=village.bens_group))

    assert signed_in("family").get(card(village)).status_code == 404


def test_queries_stay_the_same_whatever_the_number_of_children_and_days(
    village: Village, signed_in
):
    teacher = signed_in("teacher")
    drafted(village, "main_task")
    address = reverse("tasks:print-pdf", args=[village.robins.pk])
    asked = "&".join(f"{key}={value}" for key, value in ASKED.items() if key != "span")
    whole = f"{address}?{asked}&span=week&names=on"
    form = reverse("tasks:print", args=[village.robins.pk])
    teacher.get(form)  # from now on the session knows the class
    before = [queries_of(teacher, each) for each in (whole, form)]

    for place in range(9):
        village.bens_group.children.add(make_child(village.robins, f"Child {place}", "Z"))
    drafted(village, "warm_up", "main_task", date=TUESDAY)
    after = [queries_of(teacher, each) for each in (whole, form)]

    assert DayPlan.objects.count() == 2
    assert after == before
