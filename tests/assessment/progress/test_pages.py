"""The pages of seeing a class: the grid narrowed, one goal, gaps, taking part, tables to take."""

import csv
import datetime as dt
import io
import re

import pytest
from django.utils import timezone
from freezegun import freeze_time
from openpyxl import load_workbook

from portal.people.models import Child, Closure, Event
from tests.assessment.builders import at, fill_class, goal, send, set_day
from tests.assessment.progress.builders import shown
from tests.village import MONDAY

FRIDAY = "2026-11-27 12:00"


@pytest.fixture
def friday(village):
    """Let Aisha have shown sharing in equal parts on three days and Ben have tried it once."""
    with freeze_time(FRIDAY):
        shown(village, village.aisha, "iii", kinds=("halving", "one-more"))
        shown(village, village.ben, "n")
        yield village


def page(client, address):
    answer = client.get(address)
    assert answer.status_code == 200, address
    return answer.content.decode()


def words(html):
    return " ".join(re.sub(r"<[^>]+>", " ", html).split())


def grid(client, village, query=""):
    return words(page(client, f"/classes/{village.robins.pk}/goals/{query}"))


def test_dates_leave_older_work_out_of_the_grid(friday, signed_in):
    client = signed_in("teacher")
    all_of_them = "23 Nov independently, 24 Nov independently, 25 Nov independently"
    assert all_of_them in grid(client, friday)
    assert "24 Nov" not in grid(client, friday, "?first=2026-11-25")
    assert "25 Nov" not in grid(client, friday, "?last=2026-11-24")


def test_a_kind_of_work_leaves_the_others_out_of_the_grid(friday, signed_in):
    client = signed_in("teacher")
    assert "25 Nov independently" in grid(client, friday, "?kind=halving")
    assert "25 Nov" not in grid(client, friday, "?kind=subitising")


def test_nonsense_in_the_address_is_left_out(friday, signed_in):
    text = grid(signed_in("teacher"), friday, "?first=soon&kind=x&order=quiet")
    assert "25 Nov independently" in text
    assert text.index("Aisha K") < text.index("Ben T")


def test_the_page_of_a_goal_says_how_each_child_has_shown_it_in_the_registers_order(
    friday, signed_in
):
    text = words(page(signed_in("teacher"), f"/classes/{friday.robins.pk}/goals/{goal().pk}/"))
    aisha, ben = text.split("Aisha K")[1].split("Ben T")
    assert "Independently 3 times; last on 25 Nov Not seen yet: another kind of work" in aisha
    assert "Not yet once; last on 23 Nov" in ben


def test_a_childs_page_says_what_was_shown_and_what_to_try(friday, signed_in):
    text = words(page(signed_in("teacher"), f"/children/{friday.ben.pk}/"))
    assert "23 Nov not yet" in text
    assert "Not yet, or not always, alone: Explore and represent patterns" in text
    assert "Work that would help: Odd or even; Doubling; Sharing equally" in text


def test_a_childs_page_says_how_a_mistake_went(village, signed_in):
    with freeze_time(FRIDAY):
        for place, answers in enumerate(["doubled", "doubled", "right", "right"]):
            plan = set_day(village.robins, MONDAY + dt.timedelta(days=place))
            send(village.aisha, village.first_home, plan, answers=answers)
        text = words(page(signed_in("teacher"), f"/children/{village.aisha.pk}/"))
    assert "Said double instead of half Gone; found on 24 Nov, 23 Nov" in text


def test_a_mistake_that_keeps_coming_is_the_first_to_turn_to(village, signed_in):
    with freeze_time(FRIDAY):
        for place in range(2):
            plan = set_day(village.robins, MONDAY + dt.timedelta(days=place))
            send(village.aisha, village.first_home, plan, answers="doubled")
        text = words(page(signed_in("teacher"), f"/children/{village.aisha.pk}/"))
    following = text.split("What to try next")[1]
    assert following.strip().startswith("Said double instead of half")
    assert "Work that would help: Halving" in following


def test_gaps_name_the_children_and_the_work_that_would_help(friday, signed_in):
    text = words(page(signed_in("teacher"), f"/classes/{friday.robins.pk}/gaps/"))
    assert "Something is missing for 2 children" in text
    assert "1 of 2 has shown this." in text  # sharing out, of which Ben was asked
    assert "0 of 2 have shown this; 2 were never asked. Never asked Aisha K , Ben T" in text
    assert "Draft a day: Sharing equally (helps 2)" in text


def test_goals_that_these_weeks_work_is_not_about_are_folded_away(friday, signed_in):
    html = page(signed_in("teacher"), f"/classes/{friday.robins.pk}/gaps/")
    shown, folded = html.split('<details class="other-gaps">')
    assert "Explore and represent patterns" in shown.split("By goal")[1]
    assert "Subitise" in folded.split("By child")[0]
    assert "Subitise" not in shown


def test_an_assistant_reads_the_gaps_without_the_buttons(friday, signed_in):
    html = page(signed_in("assistant"), f"/classes/{friday.robins.pk}/gaps/")
    assert "/gaps/draft/" not in html
    assert "Sharing equally (2)" in words(html)


def test_taking_part_says_of_each_day_what_became_of_its_work(friday, signed_in):
    html = page(signed_in("teacher"), f"/classes/{friday.robins.pk}/taking-part/")
    monday, tuesday, *_more = re.findall(r'<span class="part-counts">(.*?)</td>', html)
    assert re.findall(r'aria-label="([^"]+)"|</svg> (\d+)', monday) == [("sent", ""), ("", "2")]
    assert 'aria-label="sent"' in tuesday and 'aria-label="silence"' in tuesday


def test_work_counts_on_the_day_it_was_set_for_whenever_it_came(village, signed_in):
    with freeze_time(FRIDAY):
        plan = set_day(village.robins, MONDAY)
        wednesday = at(village.robins, MONDAY + dt.timedelta(days=2))
        send(village.aisha, village.first_home, plan, sent_at=wednesday)
        (row,) = page(signed_in("teacher"), table_of(village)).splitlines()[1:]
    assert row == "2026-W48,2026-11-23,1,0,0,0,1,0"


def test_a_holiday_between_two_weeks_of_work_is_shown_by_its_name(village, signed_in):
    with freeze_time(FRIDAY):
        set_day(village.robins, MONDAY - dt.timedelta(weeks=2))
        set_day(village.robins, MONDAY)
        first = MONDAY - dt.timedelta(weeks=1)
        last = first + dt.timedelta(days=4)
        Closure.objects.create(school=village.school, name="half-term", first=first, last=last)
        text = words(page(signed_in("teacher"), f"/classes/{village.robins.pk}/taking-part/"))
    assert "16 November 2026 Half-term" in text


def table_of(village):
    """Return the address of taking part as CSV."""
    return f"/classes/{village.robins.pk}/taking-part.csv"


def plain(cell):
    """Return a cell of a workbook as it stands in CSV."""
    if isinstance(cell, dt.datetime):
        return cell.date().isoformat()
    return "" if cell is None else str(cell)


TABLES = (
    *("goals", "gaps", "next-groups", "taking-part", "judgements", "return"),
    "goals/{goal}",
)


@pytest.mark.parametrize("name", TABLES)
def test_every_table_is_there_as_csv_and_as_a_workbook_with_the_same_cells(friday, signed_in, name):
    client = signed_in("teacher")
    address = f"/classes/{friday.robins.pk}/{name.format(goal=goal().pk)}"
    text = client.get(f"{address}.csv").content.decode("utf-8-sig")
    book = load_workbook(io.BytesIO(client.get(f"{address}.xlsx").content))
    there = [[plain(cell) for cell in row] for row in book.active.values]
    assert [[cell.lstrip("'") for cell in row] for row in csv.reader(io.StringIO(text))] == there
    assert len(there) > 1


@pytest.mark.parametrize("name", TABLES)
def test_no_cell_of_a_workbook_is_a_formula(friday, signed_in, name):
    Child.objects.update(first_name="=1+1", initial="")
    address = f"/classes/{friday.robins.pk}/{name.format(goal=goal().pk)}.xlsx"
    book = load_workbook(io.BytesIO(signed_in("teacher").get(address).content))
    kinds = {cell.data_type for row in book.active.iter_rows() for cell in row}
    assert "f" not in kinds


def test_a_table_that_leaves_the_portal_is_written_down_without_a_name(friday, signed_in):
    before = timezone.now()
    signed_in("teacher").get(f"/classes/{friday.robins.pk}/gaps.csv")
    event = Event.objects.get(what=Event.What.EXPORTED, at__gte=before)
    assert (event.kind, event.object_id) == ("people.schoolclass", friday.robins.pk)


def test_no_family_and_nobody_from_elsewhere_sees_any_of_it(friday, signed_in):
    for role in ("family", "second home", "other teacher", "office", "foreign lead"):
        client = signed_in(role)
        for name in ("goals", "gaps", "next-groups", "taking-part", "judgements"):
            assert client.get(f"/classes/{friday.robins.pk}/{name}/").status_code == 404


def test_no_page_of_seeing_shows_a_percentage_a_rank_or_a_level(friday, signed_in):
    fill_class(friday, 3)
    client = signed_in("teacher")
    for name in ("goals", "gaps", "next-groups", "taking-part", "judgements"):
        text = words(page(client, f"/classes/{friday.robins.pk}/{name}/"))
        assert not re.search(r"\d\s*%|percent|\brank|\bscore|\btop\b|\bbest\b", text), name
        assert not re.search(r"(?i)first sign|\bbuilding\b|well shown", text), name
