"""Square codes as pages show and print them, read by a decoder that is not ours."""

import io
import re

import pytest
from PIL import Image
from playwright.sync_api import Page

from portal.people.families.forms import SlipsForm
from portal.people.models import Invitation
from tests.square_codes import codes_in, printed_codes
from tests.village import Village

pytestmark = pytest.mark.django_db(transaction=True)

SITES = (
    "https://a.sch",
    "https://number-work.a-school-with-a-long-name.some-county.example.org:8443/at-home/portal",
)
DOTS = pytest.mark.parametrize("dots", [150, 300])


def open_slips(page: Page, live_server, village: Village, layout: str) -> list[str]:
    """Have the class's slips made in *layout*; give the addresses they say."""
    page.goto(f"{live_server.url}/classes/{village.robins.pk}/slips/")
    page.locator(f"[name=layout][value={layout}]").check()
    page.locator("[name=whom][value=everybody]").check()
    page.locator("[name=each][value='2']").check()
    page.locator("form:has([name=layout]) button").click()
    page.locator(".slip-code").first.wait_for()
    return addresses_on(page)


def addresses_on(page: Page) -> list[str]:
    """Return page and letters of every slip, as its code should say them."""
    words = [slip.inner_text() for slip in page.locator("section.slip").all()]
    lines = [re.findall(r"^\S{8,}$", text, re.MULTILINE) for text in words]
    return sorted(f"{address}#{letters}" for address, letters in lines)


def codes_seen(page: Page) -> list[str]:
    """Return what the codes on the screen say."""
    seen = page.screenshot(full_page=True)
    return codes_in(Image.open(io.BytesIO(seen)).convert("L"))


@pytest.mark.parametrize("site", SITES, ids=("short", "long"))
@pytest.mark.parametrize("layout", [SlipsForm.SEVERAL, SlipsForm.ONE])
def test_every_slip_can_be_scanned_on_screen_and_on_paper(
    village, seat, live_server, settings, site, layout
):
    settings.SITE_URL = site
    page = seat(1280, village.people["office"])

    addresses = open_slips(page, live_server, village, layout)

    assert len(addresses) == len(set(addresses)) == 2
    assert all(Invitation.find(address.split("#")[1]) for address in addresses)
    assert codes_seen(page) == addresses
    for paper in ("A4", "Letter"):
        pdf = page.pdf(format=paper, prefer_css_page_size=False)
        assert [printed_codes(pdf, dots) for dots in (150, 300)] == [addresses, addresses]


def test_a_slip_is_scanned_off_a_phone(village, seat, live_server, settings):
    settings.SITE_URL = SITES[1]
    page = seat(360, village.people["office"])

    addresses = open_slips(page, live_server, village, SlipsForm.SEVERAL)

    assert codes_seen(page) == addresses


@DOTS
def test_the_square_of_the_second_step_is_what_the_app_takes(village, seat, live_server, dots):
    page = seat(1280, village.people["teacher"])
    page.goto(f"{live_server.url}/account/second-step/")
    key = page.locator(".slip-letters").inner_text().replace("-", "")

    (seen,) = codes_seen(page)

    assert seen.startswith("otpauth://totp/")
    assert f"secret={key}" in seen
    assert printed_codes(page.pdf(), dots) == [seen]
