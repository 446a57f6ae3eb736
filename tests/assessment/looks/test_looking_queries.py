"""The pages around looking ask the database the same number of questions, however full."""

import datetime as dt

import pytest
from freezegun import freeze_time

from assessment.goals.own_goal_sets import accept, make_draft, read_file
from assessment.looks.lead_marks import mark_for_lead
from assessment.looks.phrases import keep_phrase
from assessment.models import ContactNote
from tests.assessment.builders import fill_class, goal, send, set_day
from tests.assessment.test_page_queries import queries_for
from tests.village import MONDAY

PAGES = {
    "list of all classes": ("lead", "/classes/{robins}/look/?of=all&show=all"),
    "list of one group": ("teacher", "/classes/{robins}/look/?group={group}"),
    "not heard from": ("teacher", "/classes/{robins}/not-heard-from/?days=2"),
    "marks": ("lead", "/marks/"),
    "phrases": ("teacher", "/phrases/"),
    "look": ("teacher", "/look/{token}/"),
    "sets of goals": ("teacher", "/goal-sets/"),
    "set of goals": ("teacher", "/goal-sets/{set}/"),
    "kinds of a set": ("teacher", "/goal-sets/{set}/kinds/"),
    "goals of the class": ("teacher", "/classes/{robins}/goals/choose/"),
    "card": ("other family", "/children/{ben}/card/2026-11-23/"),
    "sent": ("other family", "/sent/"),
}


def fill(village, children, plan, day):
    """Let *children* send, be marked and called about; save a phrase for each."""
    for child in children:
        sent_at = dt.datetime.combine(day, dt.time(9), tzinfo=village.school.zone)
        work = send(child, village.bens_home, plan, sent_at=sent_at)
        mark_for_lead(work, village.people["teacher"], "See this")
        village.bens_group.children.add(child)
        ContactNote.objects.create(child=child, called_by=village.people["assistant"], words="Away")
        keep_phrase(village.people["teacher"], f"Phrase of {child.pk}")


@pytest.mark.parametrize("page", PAGES)
@freeze_time("2026-11-30 20:00")
def test_a_fuller_class_costs_no_further_queries(village, signed_in, page):
    role, pattern = PAGES[page]
    goal()
    plan = set_day(village.robins, MONDAY, ("halving", "one-more"))
    table = "code,strand,text\n" + "".join(f"G{n},Number,Goal {n}\n" for n in range(3))
    own = accept(make_draft(village.school, read_file(table.encode(), "Ours")))
    fill(village, [village.ben, *fill_class(village, 2)], plan, MONDAY)
    address = pattern.format(
        robins=village.robins.pk,
        ben=village.ben.pk,
        group=village.bens_group.pk,
        token=village.ben.submissions.get().token,
        set=own.pk,
    )
    client = signed_in(role)
    client.get(address)
    few = queries_for(client, address)
    fill(village, fill_class(village, 9), plan, MONDAY)
    table += "".join(f"M{n},Number,Goal {n}\n" for n in range(30))
    accept(make_draft(village.school, read_file(table.encode(), "Ours")))
    assert queries_for(client, address) == few
