"""From what is missing to work that is set, and from work to a judgement with its evidence."""

import re

import pytest
from playwright.sync_api import expect

from tests.journeys.conftest import DESK, PHONE, Visitor
from tests.standard import faults_of
from tests.walking import answer

pytestmark = pytest.mark.stack
NOTE = "Shared nine pegs among three without a word from me."


def draft_from_a_gap(teacher: Visitor) -> str:
    """Turn the first gap into a drafted day, set it, and give its date."""
    page = teacher.go("/classes/1/goals/")
    page.get_by_role("link", name="Gaps").click()
    assert faults_of(page) == []
    page.get_by_role("button", name=re.compile("Draft a day: Number of the day")).click()
    page.wait_for_url("**/plan/*-*-*/")
    expect(page.get_by_text("Families see nothing of it until you set it.")).to_be_visible()
    expect(page.get_by_role("heading", name="Main task")).to_be_visible()
    date = page.url.rstrip("/").split("/")[-1].split("#")[0]
    page.get_by_role("button", name="Set now").click()
    expect(page.get_by_role("heading", name="Families see this")).to_be_visible()
    return date


def answer_it(family: Visitor, date: str) -> None:
    """Send answers for the day that was set."""
    page = family.go(f"/children/1/send/{date}/")
    page.get_by_role("radio", name="all alone").first.check()
    answer(page, "4")
    page.get_by_role("button", name="Send", exact=True).click()
    page.wait_for_url("**/sent/*/")


def tag_it(teacher: Visitor) -> None:
    """Look at Aisha's work and say that a goal of number was shown independently."""
    page = teacher.go("/classes/1/look/?child=1")
    page.get_by_role("link", name="Look at the first").click()
    goal = page.get_by_role("group", name=re.compile("deep understanding of number"))
    if not goal.is_visible():
        page.get_by_text("More goals").click()
    goal.get_by_label("independently").check()
    page.get_by_role("button", name=re.compile("^Save(?! and)")).click()
    page.wait_for_url("**/look/?saved=*")


def judge(teacher: Visitor) -> None:
    """Decide on number with the evidence beside, lock it, and see it in the class."""
    page = teacher.go("/classes/1/judgements/")
    assert faults_of(page) == []
    page.get_by_role("link", name="Aisha K").click()
    number = page.get_by_role("region", name="Number", exact=True)
    expect(number.get_by_text(re.compile(r"\d tags?, "))).to_be_visible()
    assert faults_of(page) == []
    number.get_by_label("expected").check()
    number.get_by_label("A note, if you like").fill(NOTE)
    number.get_by_role("button", name="Save").click()
    expect(page.get_by_text("Saved.")).to_be_visible()
    number.get_by_role("button", name="Lock it").click()
    expect(number.get_by_text("A lead can unlock it.")).to_be_visible()
    expect(number.get_by_text(NOTE).first).to_be_visible()
    page.get_by_role("link", name="Judgements: Robins").click()
    expect(page.get_by_text("expected (locked)")).to_be_visible()


def test_a_gap_becomes_a_set_day_and_the_work_stands_beside_a_judgement(portal, visitor):
    teacher, family = visitor(DESK), visitor(PHONE)
    teacher.sign_in_by_password("teacher@example.org")
    family.sign_in_by_code("family@example.org")
    date = draft_from_a_gap(teacher)
    answer_it(family, date)
    tag_it(teacher)
    judge(teacher)
    page = teacher.go("/children/1/")
    assert faults_of(page) == []
    expect(page.get_by_role("heading", name="What to try next")).to_be_visible()


def test_the_pages_of_seeing_work_at_the_width_of_a_phone(portal, visitor):
    teacher = visitor(PHONE)
    teacher.sign_in_by_password("teacher@example.org")
    for name in ("goals", "gaps", "next-groups", "taking-part", "judgements", "weeks"):
        assert faults_of(teacher.go(f"/classes/1/{name}/")) == [], name


def test_groups_are_used_and_undone_without_scripts(portal, visitor):
    teacher = visitor(DESK, java_script_enabled=False)
    teacher.sign_in_by_password("teacher@example.org")
    page = teacher.go("/classes/1/next-groups/?size=2")
    page.get_by_label("Name of the group").first.fill("Kitchen")
    page.get_by_role("button", name="Use these groups").click()
    expect(page.get_by_text("These are the groups of the class now.")).to_be_visible()
    expect(page.locator("li").filter(has_text="Kitchen")).to_contain_text("Aisha")
    page.get_by_role("button", name="Undo").click()
    expect(page.get_by_text("The groups are as they were before.")).to_be_visible()
    expect(page.locator("li").filter(has_text="Apples")).to_contain_text("Ben")
