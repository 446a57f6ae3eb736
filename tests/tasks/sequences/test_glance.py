"""The days of a sequence at a glance: a small picture each, and what is new that day."""

import datetime as dt
import re

import pytest
from django.test import Client
from django.urls import reverse
from freezegun import freeze_time

from portal.people.models import Closure
from tasks.models import Sequence, Task
from tasks.plans.prompt_selection import Choice
from tasks.sequences.layout import laid_out
from tasks.sequences.news import news
from tests.tasks.builders import dates_of, drafted, drafted_week, gone_out, own_part, queries_of
from tests.village import MONDAY, Village


@pytest.fixture(autouse=True)
def friday_before():
    """Let it be noon on the Friday before the week that is planned."""
    with freeze_time("2026-11-20 12:00"):
        yield


def page_of(client: Client, village: Village, sequence: Sequence, more: str = "") -> str:
    address = reverse("tasks:sequence", args=[village.robins.pk, sequence.pk])
    response = client.get(address + more)
    assert response.status_code == 200
    return response.content.decode()


def cards(page: str) -> list[str]:
    """Return what each card of the glance says."""
    glance = page[page.index('class="glance"') : page.index("All parts of every day")]
    return [each.split("</li>")[0] for each in glance.split('<li class="glance-day')[1:]]


def main(kind: str = "doubling", **more) -> Task:
    """Return a stored main task of its own day."""
    village = more.pop("village")
    date = more.pop("date", MONDAY)
    plan = drafted(village, choice=Choice(kind, **more), date=date)
    return plan.tasks.get()


def test_each_day_has_its_date_kind_first_picture_and_how_long_it_takes(
    village: Village, signed_in
):
    sequence = drafted_week(village, "halving", days=10)

    found = cards(page_of(signed_in("teacher"), village, sequence))

    assert len(found) == 10
    for date, card in zip(dates_of(sequence), found, strict=True):
        own = own_part(sequence, date)
        first = own.prompts.first()
        assert f"{date:%a} {date.day} {date:%b}" in card
        assert own.title in card
        assert re.search(r"\d+ min", card)
        assert first.sentence in card
        assert ("<svg" in card.split("glance-sentence")[0].split("glance-kind")[1]) == bool(
            first.prompt.picture
        )


def test_every_counter_is_drawn_in_one_size_whatever_the_number(village: Village, signed_in):
    sequence = drafted_week(village, "halving", days=10)

    page = page_of(signed_in("teacher"), village, sequence)

    drawn = [card.split("glance-picture")[1] for card in cards(page) if "glance-picture" in card]
    radii = {
        each for card in drawn for each in re.findall(r'<circle[^>]* r="([\d.]+)"[^>]*fill=', card)
    }
    assert len(radii) == 1
    widths = [float(each) for card in drawn for each in re.findall(r'width="([\d.]+)em"', card)]
    boxes = [float(each) for card in drawn for each in re.findall(r'viewBox="0 0 ([\d.]+)', card)]
    assert {round(box / width) for box, width in zip(boxes, widths, strict=True)} == {16}


def test_days_without_school_are_shown_as_such_and_a_closed_week_in_one_line(
    village: Village, signed_in
):
    tuesday, monday = MONDAY + dt.timedelta(days=1), MONDAY + dt.timedelta(days=7)
    Closure.objects.create(school=village.school, name="Snow", first=tuesday, last=tuesday)
    Closure.objects.create(
        school=village.school, name="Holiday", first=monday, last=monday + dt.timedelta(days=4)
    )
    gone_out(drafted(village, date=MONDAY + dt.timedelta(days=2)))
    sequence = drafted_week(village)

    page = page_of(signed_in("teacher"), village, sequence)

    assert "School is closed: Snow" in cards(page)[1]
    assert "Its own plan" in cards(page)[2]
    assert "Week of 30 November: school is closed, Holiday" in page
    assert len(cards(page)) == 10


def test_all_parts_are_folded_away_until_asked_for_or_something_moves(village: Village, signed_in):
    sequence, teacher = drafted_week(village), signed_in("teacher")

    assert '<details id="parts">' in page_of(teacher, village, sequence)
    for more in ("?parts=open", f"?moving={MONDAY}"):
        assert '<details id="parts" open>' in page_of(teacher, village, sequence, more)


def test_locking_a_part_leaves_the_parts_unfolded(village: Village, signed_in):
    sequence = drafted_week(village)
    where = [village.robins.pk, sequence.pk, MONDAY, "main_task"]
    lock = reverse("tasks:sequence-lock-part", args=where)

    response = signed_in("teacher").post(f"{lock}?version={sequence.version}")

    assert response.url.endswith("?parts=open")


def test_groups_with_their_own_work_are_named(village: Village, signed_in):
    sequence = drafted_week(village, "adding")
    days = laid_out(sequence, village.robins)[0]

    names = {day.day.date: day.group_names for day in days}

    with_own = set(Task.objects.filter(group=village.bens_group).values_list("day_plan__date"))
    assert {(date,) for date, said in names.items() if said == "Apples"} == with_own
    page = page_of(signed_in("teacher"), village, sequence)
    assert page.count("own work for Apples") == len(with_own)


@pytest.mark.parametrize(
    ("then", "now", "said"),
    [
        ({"depth": "core"}, {"depth": "challenge"}, "without pictures now"),
        ({"depth": "challenge"}, {"depth": "core"}, "pictures now"),
        ({"within": 5}, {"within": 10}, "to 10 now"),
        ({"within": 10}, {"within": 5}, "to 5 again"),
    ],
)
def test_what_is_new_is_said_in_a_few_words(village: Village, then, now, said: str):
    usual = {"within": 10, "count": 4, "depth": "core"}
    before = main(village=village, **usual | then)
    task = main(village=village, date=MONDAY + dt.timedelta(days=1), **usual | now)

    assert said in news(task, before, is_first=False)


def test_a_new_kind_is_named_and_the_first_day_needs_no_news(village: Village):
    task = main(village=village, within=10, count=4, depth="core")

    assert news(task, None, is_first=False) == ["Doubling now"]
    assert news(task, None, is_first=True) == []


def test_another_way_of_asking_is_named_by_its_first_words(village: Village):
    usual = {"within": 10, "count": 2, "depth": "core"}
    before = main("halving", village=village, **usual)
    before.prompts.update(data={"form": "half of"})
    task = main("halving", village=village, date=MONDAY + dt.timedelta(days=1), **usual)
    task.prompts.update(data={"form": "equals first"})

    assert "the box first" in news(task, before, is_first=False)


@pytest.mark.parametrize("focus", ["adding", "halving", "number-bonds", "comparing", "ordering"])
def test_no_day_of_a_drafted_sequence_has_nothing_new(village: Village, focus: str):
    sequence = drafted_week(village, focus, days=10)

    days = [day for week in laid_out(sequence, village.robins) for day in week if day.is_ours]

    assert [day.day.date for day in days if not day.news] == [MONDAY]
    assert all(len(day.news) <= 2 for day in days)


def test_the_glance_costs_the_same_queries_for_five_days_and_for_fifteen(
    village: Village, signed_in
):
    lead = signed_in("lead")
    short = drafted_week(village)
    long = drafted_week(village, "adding", first=MONDAY + dt.timedelta(days=7), days=15)

    counts = {
        queries_of(lead, reverse("tasks:sequence", args=[village.robins.pk, each.pk]))
        for each in (short, long)
    }

    assert len(counts) == 1
