"""The pages of planning several days: what a teacher is asked, shown and told."""

import datetime as dt

import pytest
from django.test import Client
from django.urls import reverse
from freezegun import freeze_time

from portal.people.models import Closure
from tasks.models import DayPlan, Sequence, Task
from tasks.numberwork import KINDS
from tasks.plans.prompt_selection import Choice
from tasks.sequences.changing import redraw_rest, swap
from tasks.sequences.setting import throw_away
from tasks.sequences.slots import Place
from tests.tasks.builders import (
    dates_of,
    drafted,
    drafted_week,
    gone_out,
    own_part,
    queries_of,
    seen_now,
)
from tests.village import MONDAY, Village

TUESDAY = MONDAY + dt.timedelta(days=1)
ASKED = {"focus": "halving", "weeks": "1", "within": "20", "first": "2026-11-23"}


@pytest.fixture(autouse=True)
def friday_before():
    """Let it be noon on the Friday before the week that is planned."""
    with freeze_time("2026-11-20 12:00"):
        yield


def new(village: Village) -> str:
    return reverse("tasks:sequence-new", args=[village.robins.pk])


def page_of(village: Village, sequence: Sequence, name: str = "sequence", *more) -> str:
    return reverse(f"tasks:{name}", args=[village.robins.pk, sequence.pk, *more])


def read(client: Client, address: str) -> str:
    response = client.get(address)
    assert response.status_code == 200
    return response.content.decode()


def press(village: Village, client: Client, sequence: Sequence, name: str, *more, **fields) -> str:
    """Press a button of the page of *sequence*, and read the page one comes back to."""
    version = seen_now(village, sequence).version
    address = page_of(village, sequence, name, *more)
    response = client.post(f"{address}?version={version}", fields, follow=True)
    assert response.status_code == 200
    return response.content.decode()


def ask(client: Client, village: Village, **fields) -> str:
    response = client.post(new(village), {**ASKED, **fields}, follow=True)
    assert response.status_code == 200
    return response.content.decode()


def test_from_the_week_a_teacher_plans_a_sequence_and_sees_it_before_families(
    village: Village, signed_in
):
    teacher = signed_in("teacher")
    week = read(teacher, reverse("tasks:plan-week", args=[village.robins.pk]))
    assert new(village) in week

    page = ask(teacher, village)

    sequence = Sequence.objects.get()
    assert "5 school days, 23 November to 27 November" in page
    for date in dates_of(sequence):
        for part in Task.Part.values:
            for row in own_part(sequence, date, part).prompts.all():
                assert row.sentence in page
    assert not DayPlan.objects.visible_to(village.people["family"]).exists()


def test_the_week_leads_to_the_sequences_that_have_days_in_it(village: Village, signed_in):
    sequence = drafted_week(village, days=10)
    week = reverse("tasks:plan-week", args=[village.robins.pk])
    link = page_of(village, sequence)

    pages = [read(signed_in("teacher"), f"{week}?week=2026-W{number}") for number in range(47, 51)]

    assert [link in page for page in pages] == [False, True, True, False]


def test_what_was_set_before_is_ticked_as_known(village: Village, signed_in):
    choice = Choice("one-more", 10, 2, "core")
    gone_out(drafted(village, choice=choice, date=MONDAY - dt.timedelta(days=4)))

    page = read(signed_in("teacher"), new(village))

    ticked = [name for name in KINDS if f'value="{name}"' in page and is_ticked(page, name)]
    assert ticked == ["one-more"]


def is_ticked(page: str, name: str) -> bool:
    """Whether the box of a kind is ticked."""
    boxes = [tag for tag in page.split("<input")[1:] if f'value="{name}"' in tag.split(">")[0]]
    return any("checked" in tag.split(">")[0] for tag in boxes)


def test_what_is_ticked_comes_back_and_is_kept_with_the_sequence(village: Village, signed_in):
    ask(signed_in("teacher"), village, known=["comparing", "one-more"])

    sequence = Sequence.objects.get()
    assert set(sequence.known) == {"comparing", "one-more"}
    recalled = [own_part(sequence, date, "quick_recall").kind for date in dates_of(sequence)]
    assert recalled[0] in sequence.known


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"focus": ""}, "This field is required."),
        ({"focus": "number-of-the-day"}, "Select a valid choice."),
        ({"weeks": "4"}, "Select a valid choice."),
        ({"first": "2026-11-19"}, "That day has gone by."),
        ({"first": "2027-09-01"}, "Choose a day in it."),
        ({"first": "2027-07-19"}, "there are only 3 free school days"),
    ],
)
def test_a_wrong_answer_comes_back_with_what_to_do(village: Village, signed_in, fields, said):
    page = ask(signed_in("teacher"), village, **fields)

    assert said in page
    assert not Sequence.objects.exists()


def test_the_page_says_why_each_part_is_there_and_which_days_are_skipped(
    village: Village, signed_in
):
    friday = MONDAY + dt.timedelta(days=4)
    Closure.objects.create(school=village.school, name="Training day", first=friday, last=friday)
    gone_out(drafted(village, date=TUESDAY))

    page = ask(signed_in("teacher"), village)

    assert "School is closed: Training day" in page
    assert "Already has its own plan, which stays as it is." in page
    assert "another number each day" in page
    assert "new" in page
    assert "The order of the steps: common practice, no source." in page


def test_a_day_closed_since_it_was_drafted_is_not_set_with_the_others(village: Village, signed_in):
    sequence = drafted_week(village, first=MONDAY)
    Closure.objects.create(school=village.school, name="Snow", first=TUESDAY, last=TUESDAY)

    page = press(village, signed_in("teacher"), sequence, "sequence-set", time="07:15")

    assert "There is no school on Tue 24 Nov: it stays a draft." in page
    assert sequence.day_plans.drafts().get().date == TUESDAY


def test_an_earlier_sequence_is_offered_and_copied(village: Village, signed_in):
    source = drafted_week(village, "adding", first=MONDAY)
    teacher = signed_in("teacher")
    assert f"?copy={source.pk}" in read(teacher, new(village))
    assert f"?copy={source.pk}" not in read(teacher, f"{new(village)}?focus=halving")

    address = f"{new(village)}?copy={source.pk}"
    assert "Adding again" in read(teacher, address)
    teacher.post(address, {"first": "2026-12-07"})

    copied = Sequence.objects.exclude(pk=source.pk).get()
    assert (copied.focus, copied.first) == ("adding", dt.date(2026, 12, 7))


def test_a_sequence_of_another_school_cannot_be_copied(village: Village, signed_in):
    source = drafted_week(village)
    foreign = village.dot.school_class

    address = reverse("tasks:sequence-new", args=[foreign.pk])
    response = signed_in("foreign lead").get(f"{address}?copy={source.pk}")

    assert response.status_code == 404


def test_places_are_swapped_by_two_presses_without_dragging(village: Village, signed_in):
    sequence = drafted_week(village, "adding")
    teacher = signed_in("teacher")
    before = own_part(sequence, MONDAY).pk

    page = read(teacher, f"{page_of(village, sequence)}?moving=2026-11-23/main_task")
    assert "Main task of Monday 23 November: choose what it changes places with." in page
    assert page.count("Swap with this") == 24
    page = press(
        village,
        teacher,
        sequence,
        "sequence-swap",
        one="2026-11-23/main_task",
        other="2026-11-25/main_task",
    )

    assert "They have changed places." in page
    assert own_part(sequence, MONDAY + dt.timedelta(days=2)).pk == before


@pytest.mark.parametrize("moving", ["2026-11-23", "2026-11-23/main_task"])
def test_a_day_can_change_places_with_days_only_and_a_part_with_parts(
    village: Village, signed_in, moving: str
):
    sequence = drafted_week(village)

    page = read(signed_in("teacher"), f"{page_of(village, sequence)}?moving={moving}")

    offered = [each for each in page.split('name="other" value="')[1:] if not each.startswith('"')]
    places = {each.split('"')[0] for each in offered}
    assert {"/" in place for place in places} == {"/" in moving}
    assert moving not in places


@pytest.mark.parametrize("moving", ["2026-12-24", "2026-11-23/lunch", "x", ""])
def test_a_place_that_is_not_there_cannot_be_picked_up(village: Village, signed_in, moving: str):
    sequence = drafted_week(village)

    page = read(signed_in("teacher"), f"{page_of(village, sequence)}?moving={moving}")

    assert "Swap with this" not in page


def test_places_that_are_not_there_are_not_swapped(village: Village, signed_in):
    sequence = drafted_week(village)
    teacher = signed_in("teacher")

    for one, other in (("x", "2026-11-23"), ("2026-11-23", ""), ("2026-11-23/lunch", "y")):
        page = press(village, teacher, sequence, "sequence-swap", one=one, other=other)
        assert "Choose two different days, or two different parts." in page


def test_locking_and_drawing_the_rest_anew_by_the_buttons(village: Village, signed_in):
    sequence = drafted_week(village, "adding")
    teacher = signed_in("teacher")
    press(village, teacher, sequence, "sequence-lock-part", MONDAY, "main_task")
    press(village, teacher, sequence, "sequence-lock-day", TUESDAY)
    assert Task.objects.filter(locked=True, group=None).count() == 6
    before = own_part(sequence, MONDAY).seed

    page = press(village, teacher, sequence, "sequence-redraw")

    assert "There are new questions now. What was locked or set is as it was." in page
    assert own_part(sequence, MONDAY).seed == before
    unlock = page_of(village, sequence, "sequence-lock-day", TUESDAY)
    teacher.post(f"{unlock}?version={seen_now(village, sequence).version}&open=1")
    assert (
        Task.objects.filter(locked=True).count()
        == Task.objects.filter(day_plan__date=MONDAY, part="main_task").count()
    )


def test_setting_it_all_says_which_days_and_which_were_set_before(village: Village, signed_in):
    gone_out(drafted(village, date=TUESDAY))
    sequence = drafted_week(village)

    page = press(village, signed_in("teacher"), sequence, "sequence-set", time="07:15")

    assert "5 days are set, each for 07:15 of its morning: Mon 23 Nov, Wed 25 Nov" in page
    assert "Tue 24 Nov was set already and stays as it was." in page
    assert not sequence.day_plans.drafts().exists()


def test_a_time_that_is_none_comes_back_on_the_page(village: Village, signed_in):
    sequence = drafted_week(village)

    page = press(village, signed_in("teacher"), sequence, "sequence-set", time="later")

    assert "Enter a valid time." in page
    assert sequence.day_plans.drafts().count() == 5


def test_a_draft_is_thrown_away_and_brought_back_by_the_buttons(village: Village, signed_in):
    sequence = drafted_week(village)
    teacher = signed_in("teacher")

    page = press(village, teacher, sequence, "sequence-throw-away")
    assert "The draft is thrown away." in page
    assert not Task.objects.exists()

    page = press(village, teacher, sequence, "sequence-bring-back")
    assert "The draft is back." in page
    assert len(dates_of(sequence)) == 5


def test_who_was_slower_is_told_and_nothing_is_overwritten(village: Village, signed_in):
    sequence = drafted_week(village)
    stale = f"{page_of(village, sequence, 'sequence-throw-away')}?version=1"
    press(village, signed_in("lead"), sequence, "sequence-lock-day", MONDAY)

    response = signed_in("teacher").post(stale, follow=True)

    assert "Lead has changed these days since you opened them" in response.content.decode()
    assert len(dates_of(sequence)) == 5


DEEDS = ["swap", "redraw", "set", "throw-away", "bring-back"]


@pytest.mark.parametrize("name", DEEDS)
@pytest.mark.parametrize("role", ["family", "other teacher", "assistant", "office", "foreign lead"])
def test_only_who_plans_for_the_class_changes_its_sequences(
    village: Village, signed_in, name: str, role: str
):
    sequence = drafted_week(village)

    address = page_of(village, sequence, f"sequence-{name}")
    response = signed_in(role).post(f"{address}?version=1", {"time": "07:00"})

    assert response.status_code == 404
    assert Sequence.objects.get().version == sequence.version


def test_an_assistant_reads_a_sequence_and_finds_no_buttons(village: Village, signed_in):
    sequence = drafted_week(village)

    page = read(signed_in("assistant"), page_of(village, sequence))

    assert own_part(sequence, MONDAY).prompts.first().sentence in page
    assert [name for name in DEEDS if page_of(village, sequence, f"sequence-{name}") in page] == []
    assert "?moving=" not in page


def test_a_sequence_is_found_in_its_own_class_only(village: Village, signed_in):
    sequence = drafted_week(village)

    address = reverse("tasks:sequence", args=[village.wrens.pk, sequence.pk])

    assert signed_in("lead").get(address).status_code == 404


def test_a_sequence_costs_the_same_queries_for_one_week_and_for_three(village: Village, signed_in):
    teacher = signed_in("teacher")
    one = drafted_week(village, "adding")
    pages = (page_of(village, one), new(village))
    before = [queries_of(teacher, page) for page in pages]

    village.robins.groups.create(name="Pears", depth="challenge")
    three = drafted_week(village, "adding", first=dt.date(2026, 12, 7), days=15)
    for number in range(4):
        drafted_week(village, first=dt.date(2027, 1, 11) + dt.timedelta(weeks=number))

    assert [queries_of(teacher, page) for page in (page_of(village, three), pages[1])] == before


def test_actions_on_three_weeks_cost_few_queries_and_none_for_a_day_or_a_part(
    village: Village, django_assert_max_num_queries
):
    # SQLite takes a thousand values at once: a few queries more than for a week, and no others.
    with django_assert_max_num_queries(30):
        sequence = drafted_week(village, "adding", days=15)
    seen = seen_now(village, sequence)
    with django_assert_max_num_queries(30):
        redraw_rest(sequence, seen)
    seen = seen_now(village, sequence)
    with django_assert_max_num_queries(30):
        swap(sequence, Place(MONDAY), Place(dt.date(2026, 12, 7)), seen)
    seen = seen_now(village, sequence)
    with django_assert_max_num_queries(30):
        throw_away(sequence, seen)
