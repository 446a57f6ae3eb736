"""Every page asks the database the same number of questions, however full the class is."""

import datetime as dt

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from freezegun import freeze_time

from assessment.insight.weeks import Week
from assessment.judgements.judgements import periods_of
from assessment.weekly.summaries import make_summary
from portal.people.models import Guardianship
from tests.assessment.builders import add_photo, fill_class, goal, looked, send, set_day
from tests.village import MONDAY


def fill(village, children, plans):
    """Let each of *children* send for every day, with photos, answers, looks and tags."""
    for plan in plans:
        for number, child in enumerate(children):
            home = village.bens_home
            work = send(
                child, home, plan, answers="doubled" if number % 2 else "right", help="alone"
            )
            add_photo(work)
            if plan.date == MONDAY:
                looked(work, village.people["teacher"], how="independently")


def queries_for(client, address):
    """Count the queries of one page."""
    with CaptureQueriesContext(
        connection,
    ) as asked:
        answer = client.get(address)
    assert answer.status_code == 200, address
    return len(asked)


# A page that finds new tags or answers reads them, what was set, and keeps the outcome.
WEIGHED_ANEW = 13
PAGES = {
    "queue": ("teacher", "/classes/{robins}/look/"),
    "look": ("teacher", "/look/{token}/"),
    "child": ("teacher", "/children/{ben}/"),
    "evidence": ("teacher", "/children/{ben}/goals/{goal}/"),
    "goals": ("teacher", "/classes/{robins}/goals/"),
    "goals as CSV": ("teacher", "/classes/{robins}/goals.csv"),
    "goals of some days": ("teacher", "/classes/{robins}/goals/?first=2026-11-20&kind=halving"),
    "one goal": ("teacher", "/classes/{robins}/goals/{goal}/"),
    "gaps": ("teacher", "/classes/{robins}/gaps/"),
    "next groups": ("teacher", "/classes/{robins}/next-groups/?size=3"),
    "taking part": ("teacher", "/classes/{robins}/taking-part/"),
    "judgements": ("teacher", "/classes/{robins}/judgements/"),
    "judgements of a child": ("teacher", "/children/{ben}/judgements/{period}/"),
    "judgements of a school": ("lead", "/school/judgements/"),
    "goals of a school": ("lead", "/school/goals/"),
    "week of a school": ("lead", "/school/weeks/2026-W48/"),
    "words to families": ("teacher", "/classes/{robins}/weeks/2026-W48/words/"),
    "class week": ("teacher", "/classes/{robins}/weeks/2026-W48/"),
    "class week on paper": ("teacher", "/classes/{robins}/weeks/2026-W48.pdf"),
    "sheets for families": ("teacher", "/classes/{robins}/weeks/2026-W48/families.pdf"),
    "family week": ("other family", "/weeks/2026-W48/"),
}


@pytest.mark.parametrize("page", PAGES)
@freeze_time("2026-11-27 20:00")
def test_a_fuller_class_costs_no_further_queries(village, signed_in, page):
    role, pattern = PAGES[page]
    days = [MONDAY + dt.timedelta(days=number) for number in range(2)]
    plans = [set_day(village.robins, day, ("halving", "one-more")) for day in days]
    fill(village, [village.ben, *fill_class(village, 2)], plans)
    token = village.ben.submissions.filter(looked_at=None).get().token
    (period,) = periods_of(village.robins)
    places = {"robins": village.robins.pk, "ben": village.ben.pk, "goal": goal().pk}
    places["period"] = period.pk
    address = pattern.format(token=token, **places)
    client = signed_in(role)
    # What a session stores, and what is weighed anew, comes the first time alone.
    client.get(address)
    few = queries_for(client, address)
    fill(village, fill_class(village, 9), plans)
    for child in (village.ben,):
        more = [set_day(village.robins, MONDAY + dt.timedelta(days=n)) for n in (2, 3)]
        fill(village, [child], more)
    assert queries_for(client, address) <= few + WEIGHED_ANEW
    assert queries_for(client, address) == few


@freeze_time("2026-11-27 20:00")
def test_rolling_a_fuller_class_up_costs_no_further_queries(village):
    plans = [set_day(village.robins), set_day(village.wrens)]
    fill(village, fill_class(village, 2), plans[:1])
    with CaptureQueriesContext(connection) as few:
        make_summary(village.wrens.pk, Week(2026, 48))
    fill(village, fill_class(village, 9), plans[:1])
    assert Guardianship.objects.count() > 10
    with CaptureQueriesContext(connection) as many:
        make_summary(village.robins.pk, Week(2026, 48))
    # Goals, answers, prompts, tasks, their school and what it has learnt of mistakes are fetched
    # once where there is any work at all, and the mistakes in them kept once.
    assert len(many) <= len(few) + 7
