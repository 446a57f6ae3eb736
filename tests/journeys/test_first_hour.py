"""A new school's first hour: from the command to the first card on a phone, by the screens."""

import base64
import datetime as dt
import re

import pytest
from django_otp.oath import TOTP
from playwright.sync_api import Page, expect

from tests.journeys.conftest import DESK, PHONE, Visitor, mails_to
from tests.journeys.test_round_the_loop import look_sideways, today
from tests.stack import Stack, wait_for
from tests.village import PASSWORD

pytestmark = pytest.mark.stack
LEAD, TEACHER = "lead@dale.example", "teacher@dale.example"
ROSTER = b"""First name,Surname,Class,Contact 1 email,Contact 2 email,Address
Mina,Ash,Larks,,,2 Hill Top
Tobi,Birch,Larks,one@example.org,two@example.org,8 Dale End
"""


@pytest.fixture(scope="module")
def portal(browser_program, tmp_path_factory):
    """Return a portal in which there is nobody yet."""
    stack = Stack(tmp_path_factory.mktemp("new") / "data", "serve").prepare().start()
    yield stack
    stack.stop()


def come_in(person: Visitor, link: str, email: str) -> Page:
    """Set a password by *link*, sign in, and set up the sign-in code by what the screen shows."""
    page = person.page
    page.goto(link)
    page.get_by_label("New password", exact=False).first.fill(PASSWORD)
    page.get_by_label("The new password again").fill(PASSWORD)
    page.get_by_role("button", name="Set the password").click()
    page.get_by_label("E-mail address").fill(email)
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    key = re.sub(r"[^A-Z2-7]", "", page.locator(".slip-letters").inner_text().upper())
    digits = TOTP(base64.b32decode(key + "=" * (-len(key) % 8))).token()
    page.get_by_label("The 6 digits your app shows").fill(f"{digits:06}")
    page.get_by_role("button", name="Set up").click()
    expect(page.get_by_role("button", name="Print this sheet")).to_be_visible()
    look_sideways(page)
    page.get_by_role("link", name="I have kept them: go on").click()
    return page


def open_step(page: Page, words: str) -> None:
    """Open the first step that is still to be done: it is the one that *words* name."""
    page.get_by_role("navigation").get_by_role("link", name="Classes").first.click()
    first = page.locator(".first-steps li a").first
    expect(first).to_have_text(re.compile(words))
    first.click()
    look_sideways(page)


def link_mailed(portal: Stack, email: str) -> str:
    """Return the link in the mail to *email*."""
    mails = wait_for(lambda: mails_to(portal, email), what="the mail with the link")
    return re.search(r"http://\S+", mails[-1])[0]


@pytest.mark.parametrize("size", [DESK, {"width": 390, "height": 844}], ids=["desk", "phone"])
def test_a_school_goes_from_nobody_to_its_first_card_by_following_the_first_steps(
    portal, visitor, size
):
    lead_email, teacher_email = (f"{size['width']}.{each}" for each in (LEAD, TEACHER))
    said = portal.manage(
        "add_lead", f"--email={lead_email}", "--name=Mx Ford", f"--school=Dale of {lead_email}"
    )
    page = come_in(visitor(size), re.search(r"http://\S+", said)[0], lead_email)

    open_step(page, "school year and its classes")
    page.get_by_label("First day").fill(str(today() - dt.timedelta(days=60)))
    page.get_by_label("Last day").fill(str(today() + dt.timedelta(days=240)))
    page.get_by_label("Its classes").fill("Larks")
    page.get_by_role("button", name="Make the year").click()

    open_step(page, "Enter holidays and training days")
    page.get_by_label("What it is called").fill("Spring break")
    page.get_by_label("First day").fill(str(today() + dt.timedelta(days=100)))
    page.get_by_role("button", name="Add", exact=True).click()

    open_step(page, "Bring in a roster file")
    page.get_by_label("The roster file").set_input_files(
        {"name": "roster.csv", "mimeType": "text/csv", "buffer": ROSTER}
    )
    page.get_by_role("button", name="Check the file").click()
    page.get_by_role("button", name="Check the rows").click()
    page.get_by_role("button", name="Do all of this").click()

    open_step(page, "Add somebody who works here")
    page.get_by_role("link", name="Add somebody").click()
    page.get_by_label("Name, as the children").fill("Mr Wade")
    page.get_by_label("E-mail address at the school").fill(teacher_email)
    page.get_by_role("radio", name="teacher").check()
    page.get_by_role("checkbox", name=re.compile("Larks")).check()
    page.get_by_role("button", name="Add and send the mail").click()

    teacher = come_in(visitor(size), link_mailed(portal, teacher_email), teacher_email)
    teacher.get_by_role("link", name="Set a day’s work").click()
    teacher.goto(f"{portal.url}{re.search(r'/classes/[0-9]+/', teacher.url)[0]}plan/{today()}/")
    teacher.get_by_label("Kind of number work").select_option("halving")
    teacher.get_by_role("button", name="Draft it").click()
    teacher.get_by_role("button", name="Set now").click()
    expect(teacher.get_by_role("heading", name="Families see this")).to_be_visible()
    look_sideways(teacher)

    open_step(page, "Print slips")
    page.get_by_role("link", name="Homes and invitations").click()
    page.get_by_role("link", name="Print slips for the class").click()
    page.get_by_role("button", name="Make the slips").click()
    slip = page.locator(".slips > .slip", has_text="Mina")
    letters = slip.locator(".slip-letters").inner_text()
    look_sideways(page)

    home = visitor(PHONE).go(f"/come-in/#{letters}")
    home.get_by_label("Your name").fill("Ro Ash")
    home.get_by_role("button", name="Come in", exact=True).click()
    expect(home.get_by_role("link", name="Begin").first).to_be_visible()
    look_sideways(home)
