"""The pages of the door, of accounts and of the roster in a real browser, small and large."""

import re

import pytest
from django.core import mail
from django.utils import timezone
from playwright.sync_api import expect

from portal.people.jobs import send_waiting_codes
from portal.people.models import Invitation
from portal.people.roster_import.running import choose_columns, start_run, table_of
from tests.portal.people.roster_import.roster_files import HARBOUR, harbour
from tests.village import Village

pytestmark = pytest.mark.django_db(transaction=True)
FOR_VISITORS = ("/sign-in/", "/sign-in/staff/", "/sign-in/link/#x", "/come-in/", "/set-password/")
FOR_FAMILIES = ("/account/", "/sign-in/again/", "/account/address/", "/come-in/confirm/")
FOR_LEADS = (
    *("/account/", "/account/second-step/", "/account/password/", "/classes/", "/staff/"),
    *("/staff/add/", "/staff/{post}/", "/log/", "/years/", "/years/{year}/move-up/"),
    "/closures/",
    *("/classes/{robins}/homes/", "/children/{aisha}/homes/", "/children/{aisha}/change/"),
    *("/invitations/", "/classes/{robins}/slips/", "/roster/import/"),
    *("/roster/import/{run}/columns/", "/roster/import/{run}/check/"),
)


@pytest.fixture
def village(transactional_db, settings) -> Village:
    """Return the village with an invitation and a roster file on its way."""
    settings.ALLOWED_HOSTS = ["*"]
    village = Village.build()
    office = village.people["office"]
    Invitation.ask_by_mail(village.ben, village.bens_home, f"{'long.' * 9}aunt@example.org", office)
    rows = [HARBOUR[0], HARBOUR[3], ("1009", "", "Gull", "soon", "Robins", *[""] * 8)]
    run = start_run(village.school, office, harbour(rows))
    choose_columns(run, table_of(run), run.columns, "")
    village.run = run
    return village


@pytest.mark.parametrize("width", [320, 1280])
@pytest.mark.parametrize(
    ("name", "addresses"), [(None, FOR_VISITORS), ("family", FOR_FAMILIES), ("lead", FOR_LEADS)]
)
def test_every_page_fits_the_screen_and_the_standard(
    village, seat, faults_at, width, name, addresses
):
    page = seat(width, village.people[name] if name else None)
    known = {
        "post": village.people["teacher"].posts.get().pk,
        "year": village.robins.year_id,
        "robins": village.robins.pk,
        "aisha": village.aisha.pk,
        "run": village.run.pk,
    }
    wrong = {
        address: found
        for address in addresses
        if (found := faults_at(page, address.format(**known)))
    }
    assert not wrong


def test_the_link_from_the_mail_is_pressed_and_leaves_the_address_bar(village, seat, live_server):
    user = village.people["family"]
    user.email_confirmed_at = timezone.now()
    user.save()
    page = seat(360)
    page.goto(f"{live_server.url}/sign-in/")
    page.get_by_label("Your e-mail address").fill(user.email)
    page.get_by_role("button", name="Send me a code").click()
    expect(page.get_by_label("The 6 digits")).to_be_visible()
    send_waiting_codes()
    secret = re.search(r"/sign-in/link/#(\S+)", mail.outbox[-1].body)[1]
    page.goto(f"{live_server.url}/sign-in/link/#{secret}")
    assert secret not in page.url
    page.get_by_role("button", name="Sign me in").click()
    expect(page).to_have_url(re.compile("/today/"))


def test_staff_are_warned_before_their_time_is_over_and_may_stay(village, seat, live_server):
    page = seat(1280, village.people["lead"])
    page.clock.install()
    page.goto(f"{live_server.url}/classes/")
    page.clock.fast_forward("28:01")
    question = page.get_by_role("dialog", name="Are you still there?")
    expect(question).to_be_visible()
    page.get_by_role("button", name="Stay signed in").click()
    expect(question).to_be_hidden()


def test_ending_an_adults_access_is_asked_about_first(village, seat, live_server):
    page = seat(360, village.people["office"])
    page.goto(f"{live_server.url}/children/{village.aisha.pk}/homes/")
    page.get_by_role("link", name="End access to Aisha K").first.click()
    assert village.aisha.guardianships.current().count() == 2
    page.get_by_role("button", name="End access to Aisha K").click()
    expect(page.get_by_text("Ended. They are not told")).to_be_visible()
    assert village.aisha.guardianships.current().count() == 1
