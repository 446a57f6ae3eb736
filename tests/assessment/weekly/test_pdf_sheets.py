"""The week of a school, and weeks as PDF: who gets which, and what stands in them."""

import datetime as dt
import io

import pytest
from freezegun import freeze_time
from pypdf import PdfReader

from assessment.insight.weeks import Week
from assessment.weekly.summaries import make_summary
from portal.people.models import Guardianship
from tests.assessment.builders import looked, send, set_day
from tests.village import MONDAY

FRIDAY = "2026-11-27 20:00"
WEEK = Week(2026, 48)


@pytest.fixture
def week(village):
    """Let the first home have sent work on Monday, looked at, and roll both classes up."""
    with freeze_time(FRIDAY):
        plan = set_day(village.robins)
        set_day(village.wrens)
        work = send(village.aisha, village.first_home, plan, answers="doubled", help="alone")
        looked(work, village.people["teacher"], reply="Fair shares!", how="independently")
        for school_class in (village.robins, village.wrens):
            make_summary(school_class.pk, WEEK)
        yield village


def text_of(answer):
    assert answer.status_code == 200
    assert answer["Content-Type"] == "application/pdf"
    return " ".join(
        " ".join(page.extract_text().split())
        for page in PdfReader(io.BytesIO(answer.content)).pages
    )


def test_a_classs_week_on_paper_says_what_the_page_says(week, signed_in):
    address = f"/classes/{week.robins.pk}/weeks/2026-W48.pdf"
    text = text_of(signed_in("teacher").get(address))
    assert "Heard from 1 of 2 children." in text
    assert "Ben T: nothing has come so far" in text
    assert "distributed equally: 1 child, 1 without help for the first time" in text
    assert "Said double instead of half" in text
    assert "Apples: heard from 0 of 1 children" in text


def test_a_sheet_for_each_family_holds_no_goal_and_no_mistake(week, signed_in):
    address = f"/classes/{week.robins.pk}/weeks/2026-W48/families.pdf"
    text = text_of(signed_in("teacher").get(address))
    assert "Aisha" in text and "Ben" in text
    assert "number work was about: Halving." in text
    assert "distributed equally" not in text and "double instead" not in text


def test_on_paper_no_home_reads_a_reply_to_the_other(week, signed_in):
    address = f"/classes/{week.robins.pk}/weeks/2026-W48/families.pdf"
    assert "Fair shares!" not in text_of(signed_in("teacher").get(address))
    Guardianship.objects.filter(home=week.second_home).update(ended_at=dt.datetime.now(dt.UTC))
    assert "Fair shares!" in text_of(signed_in("teacher").get(address))


def test_a_familys_sheet_has_dates_says_nothing_twice_and_is_one_side(village, signed_in):
    with freeze_time(FRIDAY):
        for place in range(5):
            plan = set_day(village.robins, MONDAY + dt.timedelta(days=place))
            for again in range(6):
                work = send(village.ben, village.bens_home, plan)
                reply = f"Long words number {again} " + "and so on " * 40
                looked(work, village.people["teacher"], reply=reply, next_step="Try with plates.")
        answer = signed_in("other family").get(f"/children/{village.ben.pk}/weeks/2026-W48.pdf")
    text = text_of(answer)
    assert len(PdfReader(io.BytesIO(answer.content)).pages) == 1
    assert "Wednesday 25 November. " in text
    assert text.count("Try with plates.") == 1
    assert text.count("29 November 2026") == 1
    assert "Long words number 5" in text


def test_a_family_prints_its_own_week(week, signed_in):
    address = f"/children/{week.aisha.pk}/weeks/2026-W48.pdf"
    assert "Fair shares!" in text_of(signed_in("family").get(address))
    assert "Fair shares!" not in text_of(signed_in("second home").get(address))
    assert signed_in("other family").get(address).status_code == 404


def test_the_file_names_no_child_and_is_not_kept_by_the_browser(week, signed_in):
    answer = signed_in("family").get(f"/children/{week.aisha.pk}/weeks/2026-W48.pdf")
    assert "Aisha" not in answer["Content-Disposition"]
    assert "no-store" in answer["Cache-Control"]


def test_a_lead_reads_the_classes_added_up_and_no_name(week, signed_in):
    html = signed_in("lead").get("/school/weeks/2026-W48/").content.decode()
    assert "1 of 2 children" in html and "0 of 1 children" in html
    assert "without help for the first time" in html
    assert "Aisha" not in html and "Ben" not in html
    text = text_of(signed_in("lead").get("/school/weeks/2026-W48.pdf"))
    assert "Robins: heard from 1 of 2 children, 1 day" in text
    assert "Aisha" not in text


def test_a_class_that_is_not_rolled_up_yet_says_so(week, signed_in):
    html = signed_in("lead").get("/school/weeks/2026-W49/").content.decode()
    assert html.count("not summed up yet") == 2


def test_another_schools_lead_reads_nothing_of_it(week, signed_in):
    html = signed_in("foreign lead").get("/school/weeks/2026-W48/").content.decode()
    assert "Robins" not in html and "Larks" in html


def test_this_week_leads_to_the_week_it_is(week, signed_in):
    assert signed_in("lead").get("/school/weeks/").url == "/school/weeks/2026-W48/"


def test_the_class_page_suggests_groups_for_next_week_while_it_is_this_week(week, signed_in):
    client = signed_in("teacher")
    now = client.get(f"/classes/{week.robins.pk}/weeks/2026-W48/").content.decode()
    before = client.get(f"/classes/{week.robins.pk}/weeks/2026-W47/").content.decode()
    assert "suggested for next week" in now
    assert "suggested for next week" not in before


def test_the_week_says_which_mistakes_went_and_which_stayed(village, signed_in):
    with freeze_time(FRIDAY):
        monday_before = MONDAY - dt.timedelta(days=7)
        for place, answers in enumerate(["doubled", "doubled"]):
            plan = set_day(village.robins, monday_before + dt.timedelta(days=place))
            send(village.aisha, village.first_home, plan, answers=answers)
            send(village.ben, village.bens_home, plan, answers="doubled")
        for place in range(2):
            plan = set_day(village.robins, MONDAY + dt.timedelta(days=place))
            send(village.aisha, village.first_home, plan, answers="right")
            send(village.ben, village.bens_home, plan, answers="doubled")
        html = signed_in("teacher").get(f"/classes/{village.robins.pk}/weeks/2026-W48/")
    whole = html.context["whole"]
    assert whole.gone == [("Said double instead of half", 1)]
    assert whole.stayed == [("Said double instead of half", 1)]
