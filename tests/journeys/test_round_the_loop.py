"""Once round the whole loop: plan, set, do at home, send, look, answer and tag, see."""

import datetime as dt
import json
import re
import sqlite3
from zoneinfo import ZoneInfo

import pytest
from playwright.sync_api import Page, expect

from tests.evidence.media.readers import told_by
from tests.journeys.conftest import DESK, PHONE, Visitor
from tests.stack import wait_for
from tests.walking import answer, go_to

pytestmark = pytest.mark.stack
REPLY = "Both plates have the same, Aisha. How did you check?"


def today() -> dt.date:
    """Return the date at the school."""
    return dt.datetime.now(ZoneInfo("Europe/London")).date()


def week_of(day: dt.date) -> str:
    year, week, _day = day.isocalendar()
    return f"{year}-W{week:02}"


def look_sideways(page: Page) -> None:
    """Fail when the page is wider than its screen."""
    wide = page.evaluate("document.documentElement.scrollWidth - window.innerWidth")
    assert wide <= 0, f"{page.url} is {wide} px too wide"


def plan_and_set(teacher: Visitor) -> None:
    """Draft today around halving, redraw a prompt, see it as a family, set it now."""
    page = teacher.go(f"/classes/1/plan/{today()}/")
    page.get_by_label("Kind of number work").select_option("halving")
    page.get_by_role("button", name="Draft it").click()
    expect(page.get_by_role("heading", name="Main task")).to_be_visible()
    before = page.locator("main").inner_text()
    page.get_by_role("button", name="Another").last.click()
    wait_for(lambda: page.locator("main").inner_text() != before, what="another prompt")
    page.get_by_role("link", name="See it as a family").click()
    page.get_by_role("link", name="Next").click()
    expect(page.locator(".step:target svg[role=img]").first).to_be_visible()
    page.get_by_role("link", name="Back to the plan").click()
    page.get_by_role("button", name="Set now").click()
    expect(page.get_by_role("heading", name="Families see this")).to_be_visible()


def send_work(family: Visitor, phone_files) -> str:
    """Read the card, send a sideways photo and a clip that know the place, answer one prompt."""
    page = family.page
    page.get_by_role("link", name=re.compile("Open Aisha")).click()
    expect(page.get_by_role("link", name="Begin")).to_be_visible()
    look_sideways(page)
    page.get_by_role("link", name=re.compile("Send Aisha")).first.click()
    page.get_by_label("Photos, clips").set_input_files(
        [
            phone_files / "sideways.jpg",
            phone_files / "clip.mov",
            phone_files / "photo.heic",
        ]
    )
    page.get_by_role("radio", name="all alone").first.check()
    page.get_by_text("More to say").click()
    page.get_by_label("A word to the teacher").fill("She counted them twice.")
    answer(page, "4")
    look_sideways(page)
    page.get_by_role("button", name="Send", exact=True).click()
    page.wait_for_url("**/sent/*/")
    ready = page.locator(".pieces").get_by_text("ready", exact=True)
    expect(ready).to_have_count(3, timeout=90_000)
    look_sideways(page)
    return page.url


def answer_only(family: Visitor) -> None:
    """Send an answer and no picture, as a home without a camera does."""
    page = family.page
    page.get_by_role("link", name=re.compile("Send Ben")).first.click()
    answer(page, "3")
    page.get_by_role("button", name="Send", exact=True).click()
    page.wait_for_url("**/sent/*/")


def look_and_tag(teacher: Visitor) -> None:
    """Look at both, the oldest first: answer Aisha, tag her work, go on to the next."""
    page = teacher.go("/classes/1/look/")
    look_sideways(page)
    page.get_by_role("link", name="Look at the first").click()
    expect(page.get_by_text("She counted them twice.")).to_be_visible()
    page.get_by_label("reply", exact=False).first.fill(REPLY)
    page.get_by_label("independently").first.check()
    page.get_by_role("button", name="Save and next").click()
    expect(page.get_by_role("heading", name=re.compile("Ben"))).to_be_visible()
    page.get_by_role("button", name="Save and next").click()


def what_was_served(visitor: Visitor, sent: str, folder) -> list:
    """Fetch every file the family's page offers, and write each into *folder*."""
    page = visitor.go(sent.replace(visitor.portal.url, ""))
    offered = page.eval_on_selector_all(
        ".pieces [src], .pieces a[href*='/pieces/'], .pieces [poster]",
        "nodes => nodes.flatMap(n => [n.src, n.href, n.poster].filter(Boolean))",
    )
    files = []
    for number, address in enumerate(sorted(set(offered))):
        answer = visitor.context.request.get(address)
        assert answer.ok, address
        path = folder / f"{number}.{answer.headers['content-type'].split('/')[1]}"
        path.write_bytes(answer.body())
        files.append(path)
    return files


def test_once_round_the_loop(portal, visitor, phone_files, tmp_path):
    day = today()
    teacher, family, other = visitor(DESK), visitor(PHONE), visitor(PHONE)
    teacher.sign_in_by_password("teacher@example.org")
    family.sign_in_by_code("family@example.org")
    other.sign_in_by_code("other-family@example.org")
    expect(family.page.get_by_text("Nothing is set").first).to_be_visible()

    plan_and_set(teacher)
    family.go("/today/")
    sent = send_work(family, phone_files)
    other.go("/today/")
    answer_only(other)
    look_and_tag(teacher)

    files = what_was_served(family, sent, tmp_path)
    assert len(files) >= 6
    assert [told_by(path) for path in files] == [{}] * len(files)
    assert not list((portal.data / "media" / "originals").rglob("*.*"))

    page = teacher.go("/children/1/")
    look_sideways(page)
    expect(page.get_by_text("independently").first).to_be_visible()
    page = teacher.go("/classes/1/goals/")
    expect(page.get_by_role("cell", name=re.compile("independently")).first).to_be_visible()

    # A family is told a moment after the teacher saved.
    wait_for(lambda: family.go("/weeks/").get_by_text(REPLY).is_visible())
    look_sideways(family.page)
    figures = json.loads(
        portal.manage(
            "week_summary", "--class", "Robins", "--week", week_of(day), "--format", "json"
        )
    )
    assert "Aisha" in json.dumps(figures)


def test_another_family_gets_nothing_of_what_was_sent(portal, visitor):
    with sqlite3.connect(portal.data / "kitchen-counter.sqlite3") as database:
        tokens = [row[0] for row in database.execute("SELECT token FROM evidence_piece")]
        assert tokens, "the first journey sends some"
    other = visitor(PHONE)
    other.sign_in_by_code("other-family@example.org")
    for token in tokens:
        for role in ("display", "thumb", "clip", "poster"):
            answer = other.context.request.get(f"{portal.url}/pieces/{token}/{role}/")
            assert answer.status == 404


def test_the_teachers_screen_works_at_the_width_of_a_phone(portal, visitor):
    teacher = visitor(PHONE)
    teacher.sign_in_by_password("teacher@example.org")
    for path in ("plan/", f"plan/{today()}/", "look/", "goals/", "weeks/"):
        look_sideways(teacher.go(f"/classes/1/{path}"))


def test_sending_works_without_scripts(portal, visitor, phone_files):
    family = visitor(PHONE, java_script_enabled=False)
    family.sign_in_by_code("other-family@example.org")
    page = family.go("/today/")
    page.get_by_role("link", name="Do it again").click()
    go_to(page, "send")
    page.get_by_label("Photos, clips").set_input_files(phone_files / "photo.jpg")
    page.get_by_role("button", name="Send", exact=True).click()
    page.wait_for_url(re.compile("/sent/"))
    wait_for(lambda: page.reload() and page.locator(".pieces img").count(), what="the photo")
