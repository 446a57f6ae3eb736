"""The pages about data in a real browser, small and large, and the two taps of a consent."""

import pytest
from playwright.sync_api import expect

from assessment.goals.goal_sets import load_frameworks
from portal.data_protection.jobs import make_copy
from portal.data_protection.models import DataExport, DataRequest, LegalHold
from portal.people.models import Consent, Guardianship, Purpose
from tests.evidence.builders import make_ready_piece, make_submission
from tests.village import Village

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.stack]
FOR_FAMILIES = (
    *("/privacy/", "/sent/{work}/", "/sent/{work}/looked/", "/children/{aisha}/looked/"),
    *("/copies/{copy}/", "/children/{aisha}/send/2026-11-23/"),
)
FOR_LEADS = (
    *("/worry/", "/school/privacy/", "/school/privacy/rules/", "/school/privacy/tonight/"),
    *("/children/{aisha}/privacy/", "/children/{aisha}/privacy/erase/"),
    *("/classes/{robins}/consents/", "/pieces/{piece}/others/", "/work/{work_pk}/data/"),
)


@pytest.fixture
def known(village: Village, settings) -> dict[str, object]:
    """Return what the addresses name: work with a piece, a copy, a wish, a hold and answers."""
    settings.ALLOWED_HOSTS = ["*"]
    load_frameworks()
    family = village.people["family"]
    piece = make_ready_piece(make_submission(village))
    own = Guardianship.objects.get(adult=family, child=village.aisha)
    Consent.answer(own, Purpose.DISPLAY, given=True, wording=1)
    DataRequest.ask(village.aisha, DataRequest.What.DELETE_WORK, family, work=piece.submission_id)
    LegalHold.place(village.ben, None, village.people["lead"])
    copy = DataExport.objects.create(child=village.aisha, home=village.first_home, asked_by=family)
    make_copy(copy.pk)
    return {
        "aisha": village.aisha.pk,
        "robins": village.robins.pk,
        "work": piece.submission.token,
        "work_pk": piece.submission_id,
        "piece": piece.token,
        "copy": copy.token,
    }


@pytest.mark.parametrize("width", [320, 1280])
@pytest.mark.parametrize(
    ("name", "addresses"), [("second home", FOR_FAMILIES[:1]), ("family", FOR_FAMILIES),
                            ("lead", FOR_LEADS)],
)  # fmt: skip
def test_every_page_about_data_fits_the_screen_and_the_standard(
    village, known, seat, faults_at, width, name, addresses
):
    page = seat(width, village.people[name])
    for address in addresses:
        assert (address, faults_at(page, address.format(**known))) == (address, [])


def test_a_consent_is_taken_back_in_as_many_taps_as_it_was_given(village, known, seat, live_server):
    page = seat(360, village.people["family"])
    page.goto(f"{live_server.url}/sent/{known['work']}/")
    page.locator(".quiet-foot").get_by_role("link", name="Privacy and your data").click()
    page.get_by_role("button", name="No", exact=True).first.click()
    expect(page.get_by_text("You said no on")).to_be_visible()
    page.get_by_role("button", name="Yes", exact=True).first.click()
    expect(page.get_by_text("You said yes on")).to_be_visible()


def test_deleting_work_is_asked_about_first(village, known, seat, live_server):
    page = seat(1280, village.people["lead"])
    page.goto(f"{live_server.url}/work/{known['work_pk']}/data/")
    page.get_by_role("link", name="Delete this work").click()
    expect(page.get_by_role("dialog", name="Delete this work for good?")).to_be_visible()
    page.get_by_role("dialog").get_by_text("No, go back").click()
    expect(page.get_by_role("dialog")).to_be_hidden()
