"""What a screen reader finds on the family's card and sending page, in order, as it is kept here.

A change in what is heard is seen as a difference of `read_out/*.txt`. After a change that is meant:

    RENEW_READ_OUT=1 python3 manage.py test tests/portal/states/test_read_out.py
"""

import os
import re
from pathlib import Path

import pytest
from playwright.sync_api import Page

from tasks.plans import prompt_selection
from tests.access.scene import Scene
from tests.portal.states import Group, unfold
from tests.portal.states.scene import set_today
from tests.village import Village
from tests.walking import go_to

pytestmark = pytest.mark.django_db(transaction=True)
KEPT = Path(__file__).parent / "read_out"
SEED = 7
PARTS = ("number_of_the_day", "main_task")
DATE = re.compile(r"[A-Z][a-z]+day \d+ [A-Z][a-z]+")
FOLDS = {"card": "details:is(.card-whole, .card-right)", "send": "details.step-adult"}
ADDRESSES = {"card": "tasks:card", "send": "evidence:send"}


@pytest.fixture
def scene(transactional_db, monkeypatch) -> Scene:
    """Return a day that is drawn alike each time, and nothing else."""
    monkeypatch.setattr(prompt_selection.secrets, "randbelow", lambda most: SEED)
    village = Village.build()
    return Scene(village, {"child_pk": village.aisha.pk, "date": set_today(village, *PARTS)})


def read_out(page: Page, name: str) -> str:
    """Return what is heard on *page*, a line each: headings, names, pictures in words, controls.

    Chromium's tree for assistive technology is read; where links lead is left out. Of a walk each
    screen is read, one after the other.
    """
    screens = page.locator(".step").evaluate_all("all => all.map(each => each.id)")
    lines = []
    for screen in screens or [None]:
        if screen:
            go_to(page, screen)
        unfold(f"{FOLDS[name]}:not([open]):visible")(page)
        lines += page.locator("body").aria_snapshot().splitlines()
    heard = [line.rstrip(":") for line in lines if "/url:" not in line]
    return DATE.sub("DAY", "\n".join(heard)) + "\n"


@pytest.mark.parametrize("name", ADDRESSES)
def test_what_is_read_out_is_what_was_agreed(scene, seat, name):
    page = seat(Group(name, "second home", ()))
    page.goto(scene.address(ADDRESSES[name]))
    page.wait_for_load_state("networkidle")
    kept = KEPT / f"{name}.txt"
    heard = read_out(page, name)
    if os.environ.get("RENEW_READ_OUT"):
        kept.write_text(heard)
    assert heard == kept.read_text()


def test_every_picture_of_a_card_is_told_in_words(scene, seat):
    page = seat(Group("card", "second home", ()))
    page.goto(scene.address("tasks:card"))
    silent = page.locator("main svg:not([aria-hidden=true])").evaluate_all(
        "all => all.filter((each) => each.getAttribute('role') !== 'img' ||"
        " !(each.getAttribute('aria-label') || each.querySelector('title'))).length"
    )
    assert page.locator("main svg[role=img]").count() > 0
    assert silent == 0
