"""Leaves are turned by a link, a key or a thumb, whichever way the page runs; each fits a phone."""

import datetime as dt
import re

import pytest
from django.urls import reverse
from django.utils import timezone
from playwright.sync_api import Page, expect

from evidence.models import Submission
from portal.people.models import User
from tests.assessment.builders import goal, looked, send, set_day
from tests.evidence.builders import make_ready_piece
from tests.standard import faults_of
from tests.tasks.browsing import Opener
from tests.village import MONDAY, Village

pytestmark = pytest.mark.django_db(transaction=True)
PHONE = 360
DRAWN = 200  # pixels that a thumb is drawn across


@pytest.fixture
def leaves(village: Village) -> list[str]:
    """Return the addresses of two of Aisha's leaves, the newer one with all that there can be."""
    goal()
    addresses = []
    for ago in (1, 0):
        plan = set_day(village.robins, MONDAY + dt.timedelta(days=1 - ago))
        work = send(village.aisha, village.first_home, plan, answers="right")
        sent_at = timezone.now() - dt.timedelta(days=ago, hours=1)
        Submission.objects.filter(pk=work.pk).update(sent_at=sent_at)
        addresses.append(reverse("assessment:leaf", args=[work.token]))
    make_ready_piece(work)
    words = "You put the same on both plates, Aisha, and counted them again."
    looked(work, village.people["teacher"], words, "independently", next_step="Try 14 grapes.")
    return addresses[::-1]


def draw_a_thumb(page: Page, across: int) -> None:
    """Draw a thumb over the page, *across* pixels to the right."""
    touches = page.context.new_cdp_session(page)
    x = 180 - across // 2
    for kind, at in (("Start", x), ("Move", x + across), ("End", None)):
        points = [] if at is None else [{"x": at, "y": 200}]
        event = {"type": f"touch{kind}", "touchPoints": points}
        touches.send("Input.dispatchTouchEvent", event)


def is_at(page: Page, address: str) -> None:
    """Wait until *page* is at *address*, with its scripts."""
    expect(page).to_have_url(re.compile(f"{re.escape(address)}$"))
    page.wait_for_load_state()


def test_a_leaf_fits_on_one_screen_of_a_phone_and_is_turned_without_scripts(
    village: Village, opened: Opener, leaves: list[str]
):
    newer, older = leaves
    page = opened("family", newer, PHONE, scripts=False)
    sheet, turn = (page.locator(part).bounding_box() for part in (".spread", ".turn"))
    places = page.locator(".family-places").bounding_box()
    assert sheet["y"] + sheet["height"] <= turn["y"] + 1
    assert turn["y"] + turn["height"] <= places["y"] + 1
    assert places["y"] + places["height"] <= page.viewport_size["height"] + 1

    page.get_by_role("link", name="Turn over").click()
    is_at(page, older)
    page.get_by_role("link", name="Back").click()
    is_at(page, newer)


def test_keys_and_a_thumb_turn_the_leaves_the_way_the_page_runs(
    village: Village, opened: Opener, leaves: list[str]
):
    newer, older = leaves
    page = opened("family", newer, PHONE)
    assert faults_of(page) == []
    page.keyboard.press("ArrowRight")
    is_at(page, older)
    page.keyboard.press("ArrowLeft")
    is_at(page, newer)
    draw_a_thumb(page, -DRAWN)
    is_at(page, older)
    draw_a_thumb(page, DRAWN)
    is_at(page, newer)

    User.objects.update(language="ar")
    page.reload()
    page.keyboard.press("ArrowLeft")
    is_at(page, older)
    draw_a_thumb(page, -DRAWN)
    is_at(page, newer)


def test_a_small_or_slanting_touch_turns_nothing(
    village: Village, opened: Opener, leaves: list[str]
):
    page = opened("family", leaves[0], PHONE)
    draw_a_thumb(page, -40)
    page.wait_for_timeout(300)
    is_at(page, leaves[0])


def test_on_a_desk_the_work_and_the_words_lie_side_by_side(
    village: Village, opened: Opener, leaves: list[str]
):
    page = opened("family", leaves[0])
    work, said = (page.locator(part).bounding_box() for part in (".spread-work", ".spread-said"))
    assert work["y"] == said["y"]
    assert work["x"] + work["width"] <= said["x"] + 1
    assert faults_of(page) == []
