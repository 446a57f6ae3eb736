"""The week as its class's staff and as a family read it."""

import datetime as dt
import re

import pytest
from freezegun import freeze_time

from assessment.insight.weeks import Week
from assessment.weekly.class_week import class_week
from assessment.weekly.plain_text import as_data, as_text
from portal.people.models import Child
from tasks.models import DayPlan
from tests.assessment.builders import at, goal, looked, send, set_day
from tests.village import MONDAY

WEEK = Week(2026, 48)
FRIDAY_EVENING = "2026-11-27 20:00"


def whole(village):
    """Give the week of Robins."""
    return class_week(village.robins, Child.objects.filter(school_class=village.robins), WEEK)


@freeze_time(FRIDAY_EVENING)
def test_who_sent_and_who_was_not_heard_from_are_named_with_since_when(village):
    send(village.aisha, village.first_home, set_day(village.robins))
    long_ago = set_day(village.robins, MONDAY - dt.timedelta(days=14))
    send(village.ben, village.bens_home, long_ago)
    week = whole(village)
    assert [(child, one.sent_days) for child, one in week.sent] == [(village.aisha, 1)]
    assert [(one.child, one.since) for one in week.silent] == [(village.ben, dt.date(2026, 11, 9))]
    assert [row.child for row in week.register] == [village.aisha, village.ben]


@freeze_time(FRIDAY_EVENING)
def test_a_child_from_whom_nothing_ever_came_is_listed_without_a_date(village):
    set_day(village.robins)
    assert {one.since for one in whole(village).silent} == {None}


@freeze_time(FRIDAY_EVENING)
def test_nobody_is_silent_in_a_week_for_which_nothing_was_set(village):
    assert whole(village).silent == []


@freeze_time("2026-11-23 01:00")
def test_nobody_is_silent_before_the_first_day_is_over(village):
    set_day(village.robins)
    assert whole(village).silent == []


@freeze_time("2026-12-02 20:00")
def test_work_belongs_to_the_week_of_the_day_it_was_set_for_whenever_it_came(village):
    friday = set_day(village.robins, MONDAY + dt.timedelta(days=4))
    late = at(village.robins, MONDAY + dt.timedelta(days=8))
    send(village.aisha, village.first_home, friday, sent_at=late)
    assert [(child, one.sent_days) for child, one in whole(village).sent] == [(village.aisha, 1)]
    set_day(village.robins, MONDAY + dt.timedelta(days=7))
    children = Child.objects.filter(school_class=village.robins)
    assert class_week(village.robins, children, WEEK.shifted(1)).sent == []


@freeze_time(FRIDAY_EVENING)
def test_goals_seen_and_mistakes_suggested_are_named_with_their_children(village):
    plan = set_day(village.robins)
    work = send(village.aisha, village.first_home, plan, answers="doubled", help="alone")
    looked(work, village.people["teacher"], how="independently")
    week = whole(village)
    assert [(one.goal, one.children, one.new) for one in week.goals] == [(goal(), 1, 1)]
    assert [(one.sentence, one.children) for one in week.mistakes] == [
        ("Said double instead of half", [village.aisha])
    ]


@freeze_time(FRIDAY_EVENING)
def test_a_goal_shown_unaided_in_an_earlier_week_is_not_new(village):
    for day in (MONDAY - dt.timedelta(days=7), MONDAY):
        work = send(village.aisha, village.first_home, set_day(village.robins, day), help="alone")
        looked(work, village.people["teacher"], how="independently")
    assert [(one.children, one.new) for one in whole(village).goals] == [(1, 0)]


@freeze_time(FRIDAY_EVENING)
def test_work_that_was_taken_back_is_not_told_of(village):
    work = send(village.aisha, village.first_home, set_day(village.robins), answers="doubled")
    work.withdrawn_at = work.sent_at
    work.save()
    week = whole(village)
    assert week.sent == []
    assert week.mistakes == []


@freeze_time(FRIDAY_EVENING)
def test_the_week_can_be_given_as_data_and_as_text(village):
    send(village.aisha, village.first_home, set_day(village.robins), answers="doubled")
    data, text = as_data(whole(village)), as_text(whole(village))
    assert data["week"] == "2026-W48"
    assert data["not_heard_from"] == [{"child": "Ben T", "since": None}]
    assert "Heard from 1 of 2 children." in text
    assert "Said double instead of half (Halving): Aisha K" in text


@freeze_time(FRIDAY_EVENING)
def test_the_page_of_a_class_names_who_was_not_heard_from(village, signed_in):
    send(village.aisha, village.first_home, set_day(village.robins))
    html = signed_in("teacher").get(f"/classes/{village.robins.pk}/weeks/2026-W48/").content
    aisha, ben = re.findall(r"<bdi>(?:Aisha|Ben).*?</tr>", html.decode(), re.DOTALL)
    assert 'aria-label="sent"' in aisha
    assert 'aria-label="silence"' in ben
    assert "nothing has come so far" in ben


@freeze_time(FRIDAY_EVENING)
def test_a_family_reads_what_it_did_the_reply_and_what_comes_next(village, signed_in):
    work = send(village.aisha, village.first_home, set_day(village.robins), help="alone")
    looked(work, village.people["teacher"], reply="Both plates the same!", how="not yet")
    later = set_day(village.robins, MONDAY + dt.timedelta(days=7))
    DayPlan.objects.filter(pk=later.pk).update(
        goes_out_at=at(village.robins, MONDAY), focus="Doubling"
    )
    html = signed_in("family").get("/weeks/2026-W48/").content.decode()
    assert "Main task: Halving" in html
    assert "Both plates the same!" in html
    assert "You sent work on Monday" in html
    assert "30 November: Doubling" in html
    for word in ("not yet", "distributed equally", "ELG", "mistake", "double instead"):
        assert word not in html


@freeze_time(FRIDAY_EVENING)
def test_a_plan_that_is_not_out_yet_is_not_told_of(village, signed_in):
    set_day(village.robins, MONDAY + dt.timedelta(days=7))
    assert "What comes next" not in signed_in("family").get("/weeks/2026-W48/").content.decode()


@freeze_time(FRIDAY_EVENING)
def test_a_home_never_reads_of_the_other_homes_work(village, signed_in):
    work = send(village.aisha, village.first_home, set_day(village.robins))
    looked(work, village.people["teacher"], reply="For the first home")
    html = signed_in("second home").get("/weeks/2026-W48/").content.decode()
    assert "For the first home" not in html
    assert "You sent work" not in html


@freeze_time(FRIDAY_EVENING)
def test_a_reply_taken_back_is_not_read_by_the_family(village, signed_in):
    from assessment.looks.looking import take_back_look

    work = send(village.aisha, village.first_home, set_day(village.robins))
    take_back_look(work, looked(work, village.people["teacher"], reply="Oh no").version)
    client = signed_in("family")
    assert "Oh no" not in client.get("/weeks/2026-W48/").content.decode()
    assert "Oh no" not in client.get(f"/sent/{work.token}/").content.decode()


@freeze_time(FRIDAY_EVENING)
def test_the_reply_stands_with_what_was_sent(village, signed_in):
    work = send(village.aisha, village.first_home, set_day(village.robins))
    looked(work, village.people["teacher"], reply="Both plates the same!", how="not yet")
    html = signed_in("family").get(f"/sent/{work.token}/").content.decode()
    assert "Both plates the same!" in html
    assert "not yet" not in html


@freeze_time(FRIDAY_EVENING)
def test_a_child_of_a_group_is_told_of_its_own_parts(village, signed_in):
    plan = set_day(village.robins, kinds=("halving",))
    own = plan.tasks.get()
    own.pk, own.group, own.kind = None, village.bens_group, "doubling"
    own.save()
    assert (
        "Main task: Doubling" in signed_in("other family").get("/weeks/2026-W48/").content.decode()
    )
    assert "Main task: Halving" in signed_in("family").get("/weeks/2026-W48/").content.decode()


@pytest.mark.parametrize("week", ["2026-W60", "2026-W00", "0000-W01", "2026-48", "2025-W53"])
def test_a_week_that_does_not_exist_is_not_there(village, signed_in, week):
    assert signed_in("family").get(f"/weeks/{week}/").status_code == 404
    address = f"/classes/{village.robins.pk}/weeks/{week}/"
    assert signed_in("teacher").get(address).status_code == 404


@freeze_time(FRIDAY_EVENING)
def test_this_week_leads_to_the_week_it_is_at_school(village, signed_in):
    assert signed_in("family").get("/weeks/").url == "/weeks/2026-W48/"
    address = f"/classes/{village.robins.pk}/weeks/"
    assert signed_in("teacher").get(address).url == f"{address}2026-W48/"


@freeze_time("2026-11-30 08:30")
def test_on_monday_morning_staff_open_on_the_week_that_was_and_families_on_the_new_one(
    village, signed_in
):
    address = f"/classes/{village.robins.pk}/weeks/"
    assert signed_in("teacher").get(address).url == f"{address}2026-W48/"
    assert signed_in("family").get("/weeks/").url == "/weeks/2026-W49/"


@pytest.mark.parametrize(
    ("role", "status"),
    [("visitor", 302), ("family", 200), ("second home", 200), ("other family", 404)]
    + [(role, 404) for role in ("teacher", "lead", "office", "foreign lead")],
)
def test_a_childs_week_is_for_its_own_homes(village, signed_in, role, status):
    address = f"/children/{village.aisha.pk}/weeks/2026-W48/"
    assert signed_in(role).get(address).status_code == status
