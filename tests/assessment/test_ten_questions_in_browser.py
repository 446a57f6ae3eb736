"""Ten questions that a teacher asks, each answered two presses from the page one comes in on."""

import datetime as dt

import pytest
from playwright.sync_api import Page, expect

from assessment.models import Goal, Look
from evidence.models import Nonsubmission, Submission
from portal.people.models import Child
from tasks.models import DayPlan
from tests.assessment.builders import at, goal, looked, send, set_day
from tests.tasks.browsing import Opener
from tests.village import Village, make_adult, make_child

pytestmark = pytest.mark.django_db(transaction=True)
MOST_PRESSES = 2
LOOK = "/classes/{}/look/"
HALVING = "ELG-NP-3"


@pytest.fixture
def term(village: Village) -> Village:
    """Let a term have come in for Robins: Mina at home with two parents, Ben silent, Ola on paper.

    Days are of the weeks before today, but for the one that is today.
    """
    teacher, today = village.people["teacher"], village.school.today()
    mina, _ola = (make_child(village.robins, name, "P") for name in ("Mina", "Ola"))
    make_adult("minas", village.first_home, [mina])
    backs = (*range(15), 30)
    plans = {back: set_day(village.robins, today - dt.timedelta(days=back)) for back in backs}
    for back, answers in ((30, "right"), (7, "doubled")):
        work = send(mina, village.first_home, plans[back], answers=answers, help="alone")
        looked(work, teacher, f"Said {back} days ago, Mina", "independently")
    now = at(village.robins, today, dt.time(0))
    send(mina, village.first_home, plans[0], answers="doubled", help="together", sent_at=now)
    send(village.aisha, village.first_home, plans[0], answers="right", help="alone", sent_at=now)
    return village


def from_the_first_page(opened: Opener, village: Village, *presses: str) -> Page:
    """Come in as the teacher, and press the links of these names, two at the most."""
    assert len(presses) <= MOST_PRESSES
    page = opened("teacher", LOOK.format(village.robins.pk))
    for name in presses:
        page.get_by_role("link", name=name).first.click()
    return page


def test_who_has_never_shown_halving_alone(opened: Opener, term: Village):
    halving = Goal.objects.get(framework__slug="eyfs-elg-2021", code=HALVING)
    page = from_the_first_page(opened, term, "Goals", halving.label)
    alone = Child.objects.filter(tags__goal=halving, tags__how="independently").distinct()
    rows = page.locator(".children-seen > li")
    expect(rows).to_have_count(Child.objects.filter(school_class=term.robins).count())
    expect(rows.filter(has_text="independently")).to_have_count(alone.count())
    expect(rows.filter(has_text="independently")).to_contain_text(["Mina P"])


def test_whom_i_have_not_answered(opened: Opener, term: Village):
    page = from_the_first_page(opened, term)
    waiting = Submission.objects.not_yet_looked_at().filter(child__school_class=term.robins)
    expect(page.locator(".queue > li")).to_have_count(waiting.count())
    for work in waiting:
        expect(page.locator(".queue")).to_contain_text(str(work.child))


def test_what_a_child_did_in_a_month(opened: Opener, term: Village):
    page = from_the_first_page(opened, term, "Goals", "Mina P")
    works = Submission.objects.filter(child__first_name="Mina")
    for plan in DayPlan.objects.filter(submissions__in=works):
        expect(page.locator(".work h3", has_text=f"{plan.date:%B}").first).to_be_visible()
    expect(page.locator(".work")).to_have_count(works.count())


def test_who_has_not_been_heard_from_and_who_works_on_paper(opened: Opener, term: Village):
    page = from_the_first_page(opened, term, "Not heard from")
    silent = page.locator(".silent-list")
    expect(silent).to_contain_text("Ben T")
    expect(silent).not_to_contain_text("Aisha K")
    paper = page.locator("section[aria-labelledby=paper]")
    expect(paper).to_contain_text("Ola P")
    assert not Nonsubmission.objects.exists()


def test_which_mistake_came_most_and_in_whose_work(opened: Opener, term: Village):
    page = opened("teacher", LOOK.format(term.robins.pk))
    page.get_by_role("link", name="Week", exact=True).click()
    found = page.locator("section[aria-labelledby=mistakes] li").first
    expect(found).to_contain_text("double", ignore_case=True)
    expect(found).to_contain_text("Mina P")
    expect(found).not_to_contain_text("Aisha K")


def test_what_was_set_a_week_ago(opened: Opener, term: Village):
    page = from_the_first_page(opened, term, "Plan", "Week before")
    plan = DayPlan.objects.get(date=term.school.today() - dt.timedelta(days=7))
    day = page.locator(".day", has_text=f"{plan.date:%A}")
    expect(day).to_contain_text(plan.focus)
    expect(day.locator(".day-parts li")).to_have_count(plan.tasks.count())


def test_which_goals_nobody_is_tagged_for(opened: Opener, term: Village):
    page = from_the_first_page(opened, term, "Goals")
    goals = Goal.objects.filter(framework=goal().framework, retired_at=None)
    bare = page.locator("tbody tr:not(:has(td a))")
    expect(bare).to_have_count(goals.filter(tags=None).count())


def test_what_was_last_said_to_a_family(opened: Opener, term: Village):
    page = from_the_first_page(opened, term, "Goals", "Mina P")
    last = Look.objects.filter(submission__child__first_name="Mina").latest("looked_at")
    expect(page.get_by_text(last.reply)).to_be_visible()


def test_who_needed_help_today(opened: Opener, term: Village):
    page = from_the_first_page(opened, term, "What came for today")
    today = Submission.objects.filter(day_plan__date=term.school.today())
    expect(page.locator(".queue > li")).to_have_count(today.count())
    helped = page.locator(".queue > li", has_text="We did it together")
    expect(helped).to_have_count(today.filter(help="together").count())
    expect(helped).to_contain_text(["Mina P"])
