"""The sending page on a real phone's browser: tabs that close, lines that go, people who change."""

import re
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from PIL import Image
from playwright.sync_api import Page, expect

from tests import browsers
from tests.faults.kept_on_phone import kept_on
from tests.faults.line import line_to
from tests.faults.sessions import begin_session, stop_session
from tests.faults.speaking import film
from tests.journeys.conftest import PHONE
from tests.stack import wait_for
from tests.standard import faults_of

pytestmark = [pytest.mark.stack, pytest.mark.proof]
SIDEWAYS = 6  # Exif orientation: the top of the picture is at its right


def photo(path: Path, colour: str = "teal", size: tuple[int, int] = (3000, 1500)) -> Path:
    """Make a photo as a phone does: held sideways, with a place in it, of much detail."""
    grain = Image.effect_noise(size, 90).convert("RGB")
    picture = Image.blend(grain, Image.new("RGB", size, colour), 0.5)
    exif = Image.Exif()
    exif[0x0112] = SIDEWAYS
    exif.get_ifd(0x8825)[1] = "N"
    picture.save(path, "JPEG", quality=95, exif=exif)
    return path


@pytest.fixture
def folder(scene, tmp_path) -> Path:
    return tmp_path


@pytest.fixture
def page(scene, phone) -> Page:
    """Return a family's phone with the sending page open."""
    page = phone(scene.portal.url)
    opened(page, f"{scene.portal.url}{scene.send_path()}")
    return page


def opened(page: Page, address: str) -> None:
    page.goto(address)
    page.wait_for_selector("form[data-ready]")


def choose(page: Page, *paths: Path) -> None:
    """Choose files, and wait until each is in the tray."""
    there = page.locator(".chosen-piece").count()
    page.get_by_label("Photos, clips").set_input_files(paths)
    expect(page.locator(".chosen-piece")).to_have_count(there + len(paths))


def do(page: Page, name: str, action: str) -> None:
    """Unfold a piece that was chosen, and do something with it."""
    pick = page.get_by_role("button", name=re.compile(rf"^{name} "))
    if pick.get_attribute("aria-expanded") == "false":
        pick.click()
    page.get_by_role("button", name=f"{name}: {action}").click()


def send(page: Page) -> None:
    page.get_by_role("button", name="Send", exact=True).click()


def saved(page: Page, words: str) -> None:
    """Wait until the portal says that it is saved; then nothing is left on the phone."""
    page.wait_for_url("**/sent/*/", timeout=60_000)
    expect(page.get_by_text(words)).to_be_visible()
    kept = kept_on(page)
    assert (kept["drafts"], kept["files"], kept["local"], kept["session"]) == ([], [], [], [])


def test_a_photo_goes_upright_smaller_and_without_its_place(page, folder):
    path = photo(folder / "image.jpg")
    choose(page, path)

    [kept] = kept_on(page)["files"]
    assert kept["side"] == [1024, 2048]
    assert kept["type"] == "image/jpeg"
    assert kept["size"] < path.stat().st_size
    assert not kept["exif"]
    assert faults_of(page) == []


def test_pieces_are_put_in_order_turned_and_taken_out_before_they_go(scene, page, folder):
    names = ("red", "blue", "green")
    choose(page, *(photo(folder / f"{name}.jpg", name, (300, 200)) for name in names))
    sizes = page.locator("[data-size]").all_inner_texts()

    do(page, "Photo 3", "Up")
    do(page, "Photo 1", "Remove")
    expect(page.locator(".chosen-piece")).to_have_count(2)
    do(page, "Photo 2", "Turn")

    assert page.locator("[data-size]").all_inner_texts() == [sizes[2], sizes[1]]
    send(page)
    saved(page, "Saved: 2 pieces")
    turns = scene.ask("SELECT turn FROM evidence_piece ORDER BY id DESC LIMIT 2")
    assert turns == [(90,), (0,)]


def test_a_tab_that_the_camera_closed_loses_neither_photo_nor_words(scene, page, folder):
    choose(page, photo(folder / "image.jpg", "orange"))
    page.get_by_text("More to say").click()
    page.get_by_label("A word to the teacher").fill("We used spoons.")
    page.get_by_role("radio", name="with a little help").first.check()
    wait_for(lambda: len((kept_on(page)["drafts"] or [{"words": []}])[0]["words"]) == 2)
    context = page.context
    page.close()

    again = context.new_page()
    opened(again, f"{scene.portal.url}{scene.send_path()}")

    expect(again.locator(".chosen-piece")).to_have_count(1)
    expect(again.get_by_text("is still here")).to_be_visible()
    expect(again.get_by_label("A word to the teacher")).to_have_value("We used spoons.")
    expect(again.get_by_role("radio", name="with a little help").first).to_be_checked()
    send(again)
    saved(again, "Saved: 1 piece")
    assert scene.ask("SELECT note FROM evidence_submission ORDER BY id DESC LIMIT 1") == [
        ("We used spoons.",)
    ]


def test_what_waits_is_told_of_on_the_other_pages(scene, page, folder):
    choose(page, photo(folder / "image.jpg", "pink", (300, 200)))

    page.goto(f"{scene.portal.url}/sent/")

    expect(page.get_by_text("It waits on this phone")).to_be_visible()
    page.get_by_role("link", name=re.compile("Aisha")).first.click()
    expect(page.locator(".chosen-piece")).to_have_count(1)


def test_one_file_that_cannot_be_taken_holds_up_no_other(scene, page, folder):
    wrong = folder / "holiday.jpg"
    wrong.write_bytes(b"<html>" + b" " * 9_000)
    choose(page, wrong, photo(folder / "right.jpg", "brown", (300, 200)))

    send(page)

    expect(page.get_by_text("We cannot open this kind of file")).to_be_visible()
    expect(page.get_by_text("Take out what is marked")).to_be_visible()
    assert faults_of(page) == []
    do(page, "Photo 1", "Remove")
    send(page)
    saved(page, "Saved: 1 piece")


def test_siblings_are_sent_for_in_one_go(scene, page, folder):
    choose(page, photo(folder / "image.jpg", "navy", (300, 200)))
    page.get_by_label("Cal").check()
    send(page)
    saved(page, "Saved: 1 piece")

    last = "SELECT child_id FROM evidence_submission ORDER BY id DESC LIMIT 2"
    assert {row[0] for row in scene.ask(last)} == {
        scene.said["children"]["Aisha"],
        scene.said["children"]["Cal"],
    }


def test_sending_is_stopped_gone_on_with_and_given_up(scene, phone, folder):
    path = folder / "clip.mp4"
    path.write_bytes(film(6_000_000))
    with line_to(scene.portal.port) as line:
        page = phone(line.url)
        opened(page, f"{line.url}{scene.send_path()}")
        choose(page, path)
        line.rate = 1_500_000
        send(page)
        page.get_by_role("button", name="Stop for now").click()
        expect(page.get_by_text("Stopped. Nothing is lost.")).to_be_visible()
        assert faults_of(page) == []
        page.get_by_role("button", name="Go on").click()
        expect(page.get_by_text("Sending.")).to_be_visible()
        expect(page.locator("[data-share]")).to_have_text(re.compile(r"MB of 6 MB"))
        page.get_by_role("button", name="Stop for now").click()
        page.get_by_role("button", name="Do not send it").click()
        expect(page.locator(".chosen-piece")).to_have_count(0)
        assert kept_on(page)["drafts"] == []

    states = "SELECT state, file FROM evidence_upload ORDER BY id DESC LIMIT 1"
    assert scene.ask(states) == [("ended", "")]


def test_todays_card_opens_without_a_line_and_work_chosen_there_goes_when_it_is_back(
    scene, phone, folder
):
    with line_to(scene.portal.port) as line:
        page = phone(line.url)
        child = scene.said["children"]["Aisha"]
        card, sending = f"/children/{child}/card/{scene.day}/", scene.send_path()
        page.goto(f"{line.url}{card}")
        wait_for(lambda: {card, sending} <= set(kept_on(page)["pages"]), what="the kept pages")
        line.take_down()

        page.goto(f"{line.url}{card}")
        expect(page.get_by_role("heading", level=1, name="Aisha")).to_be_visible()
        page.goto(f"{line.url}{sending}#ready")
        expect(page.get_by_role("heading", name="Have ready")).to_be_visible()
        page.goto(f"{line.url}/weeks/")
        expect(page.get_by_text("There is no connection just now")).to_be_visible()
        opened(page, f"{line.url}{sending}")
        choose(page, photo(folder / "image.jpg", "olive", (300, 200)))
        page.get_by_text("More to say").click()
        page.get_by_label("A word to the teacher").fill("On the train.")
        send(page)
        expect(page.get_by_text("It waits on this phone, and goes by itself")).to_be_visible()
        assert faults_of(page) == []
        page.goto("about:blank")
        line.bring_up()

        page.goto(f"{line.url}{sending}")
        saved(page, "Saved: 1 piece")
    assert scene.ask("SELECT note FROM evidence_submission ORDER BY id DESC LIMIT 1") == [
        ("On the train.",)
    ]


def test_what_was_sent_without_a_line_goes_from_the_open_page_once_it_is_back(scene, phone, folder):
    with line_to(scene.portal.port) as line:
        page = phone(line.url)
        opened(page, f"{line.url}{scene.send_path()}")
        choose(page, photo(folder / "image.jpg", "navy", (300, 200)))
        line.take_down()
        send(page)
        expect(page.get_by_text("It waits on this phone, and goes by itself")).to_be_visible()
        line.bring_up()
        saved(page, "Saved: 1 piece")


def test_nothing_is_left_on_the_phone_after_signing_out(scene, phone, folder):
    page = phone(scene.portal.url, role="other family")
    child = scene.said["children"]["Ben"]
    page.goto(f"{scene.portal.url}/children/{child}/card/{scene.day}/")
    wait_for(lambda: kept_on(page)["pages"], what="the kept pages")
    opened(page, f"{scene.portal.url}{scene.send_path('Ben')}")
    choose(page, photo(folder / "image.jpg", "red", (300, 200)))
    assert kept_on(page)["drafts"]

    page.goto(f"{scene.portal.url}/today/")
    page.get_by_role("button", name="Sign out").click()
    page.wait_for_url("**/sign-in/**")

    kept = kept_on(page)
    assert about_somebody(page) == []
    assert (kept["drafts"], kept["files"], kept["local"]) == ([], [], [])


def test_pages_kept_on_the_phone_go_when_the_session_is_found_ended(scene, phone):
    page = phone(scene.portal.url)
    cookie = scene.said["crowd"][2][0]
    page.context.add_cookies([{"name": "session", "value": cookie, "url": scene.portal.url}])
    page.goto(f"{scene.portal.url}/children/{scene.said['crowd'][2][1]}/card/{scene.day}/")
    wait_for(lambda: about_somebody(page), what="the kept pages")
    row = stop_session(scene, cookie)
    page.goto(f"{scene.portal.url}/today/")
    wait_for(lambda: not about_somebody(page), 60, what="a phone without pages")
    begin_session(scene, row)


def test_pages_of_yesterday_go_when_any_page_is_opened(scene, phone):
    page = phone(scene.portal.url)
    page.goto(f"{scene.portal.url}/today/")
    card = f"/children/{scene.said['children']['Aisha']}/card/{scene.day}/"
    wait_for(lambda: {"/today/", card} <= set(about_somebody(page)), what="the kept pages")
    page.evaluate("""async () => {
      const pages = await caches.open("pages");
      const headers = { "X-Kept-On": "2020-01-01" };
      await pages.put("/children/1/card/2020-01-01/", new Response("kept", { headers }));
    }""")
    page.goto(f"{scene.portal.url}/weeks/")
    wait_for(lambda: "2020" not in f"{about_somebody(page)}", 60, what="today's alone")


def about_somebody(page: Page) -> list[str]:
    """Return the pages kept on the phone that are about somebody."""
    return [path for path in kept_on(page)["pages"] if path != "/no-line/"]


def test_somebody_else_on_the_same_phone_finds_nothing(scene, page, folder):
    choose(page, photo(folder / "image.jpg", "black", (300, 200)))
    cookie = scene.said["crowd"][0][0]
    page.context.add_cookies([{"name": "session", "value": cookie, "url": scene.portal.url}])

    page.goto(f"{scene.portal.url}/today/")

    wait_for(lambda: not kept_on(page)["files"], what="an empty phone")
    assert kept_on(page)["drafts"] == []
    expect(page.get_by_text("It waits on this phone")).to_be_hidden()


def test_a_session_that_ends_in_the_middle_loses_nothing_and_sends_nothing_again(
    scene, phone, folder
):
    path = folder / "clip.mp4"
    content = film(5_000_000)
    path.write_bytes(content)
    with line_to(scene.portal.port) as line:
        cookie = scene.said["crowd"][1][0]
        page = phone(line.url)
        page.context.add_cookies([{"name": "session", "value": cookie, "url": line.url}])
        address = f"/children/{scene.said['crowd'][1][1]}/send/{scene.day}/"
        opened(page, f"{line.url}{address}")
        choose(page, path)
        before, line.rate = line.bytes_up, 2_000_000
        send(page)
        wait_for(lambda: line.bytes_up - before > len(content) / 2, what="half of it")
        row = stop_session(scene, cookie)
        line.take_down()
        line.bring_up()

        expect(page.get_by_text("You were signed out.")).to_be_visible(timeout=30_000)
        expect(page.get_by_role("link", name="Sign in, and it goes on")).to_be_visible()
        assert faults_of(page) == []
        begin_session(scene, row)
        page.context.add_cookies([{"name": "session", "value": cookie, "url": line.url}])
        page.goto(f"{line.url}{address}")
        saved(page, "Saved: 1 piece")
        assert line.bytes_up - before <= len(content) * 1.05 + 100_000


@pytest.fixture
def microphone(scene, browser, browser_program) -> Iterator[Page]:
    """Return a phone whose microphone hears a tone."""
    with_sound = browsers.launch(browser.browser_type, browser_program, *browsers.HEARING)
    context = with_sound.new_context(viewport=PHONE, locale="en-GB")
    cookie = scene.said["cookies"]["family"]
    context.add_cookies([{"name": "session", "value": cookie, "url": scene.portal.url}])
    yield context.new_page()
    with_sound.close()


def test_a_voice_note_is_recorded_here_and_can_be_listened_to(scene, microphone):
    opened(microphone, f"{scene.portal.url}{scene.send_path()}")
    microphone.get_by_role("button", name="Record a voice note").click()
    microphone.get_by_role("button", name="Stop 0:02").click()
    expect(microphone.locator(".chosen-piece")).to_have_count(1)
    assert faults_of(microphone) == []
    send(microphone)
    saved(microphone, "Saved: 1 piece")

    ready = "SELECT kind, state FROM evidence_piece ORDER BY id DESC LIMIT 1"
    wait_for(lambda: scene.ask(ready) == [("voice", "ready")], what="the voice note")


def test_the_scripts_of_the_sending_page_weigh_less_than_sixty_four_kilobytes(scene, page, folder):
    line = page.context.new_cdp_session(page)
    line.send("Network.enable")
    line.send("Network.setCacheDisabled", {"cacheDisabled": True})
    line.send("Network.setBypassServiceWorker", {"bypass": True})
    kinds: dict[str, tuple[str, str]] = {}
    sizes: dict[str, float] = {}
    line.on(
        "Network.responseReceived",
        lambda e: kinds.update({e["requestId"]: (e["type"], e["response"]["url"])}),
    )
    line.on(
        "Network.loadingFinished",
        lambda e: sizes.update({e["requestId"]: e["encodedDataLength"]}),
    )
    opened(page, page.url)
    choose(page, photo(folder / "image.jpg", "gray", (300, 200)))
    send(page)
    page.wait_for_url("**/sent/*/")

    scripts = {key: url for key, (kind, url) in kinds.items() if kind == "Script"}
    weight = sum(sizes.get(key, 0) for key in scripts)
    sys.stdout.write(f"\nscripts of sending: {weight / 1000:.1f} kB in {len(scripts)}\n")
    assert any("tus" in url for url in scripts.values())
    assert weight <= 64_000  # 3 kB of it make clips smaller, by some 120 MB each


def test_a_portal_that_cannot_save_just_now_is_not_called_a_lost_line(scene, page, folder):
    choose(page, photo(folder / "image.jpg", "purple", (300, 200)))
    page.route("**/send/uploads/**", lambda route: route.fulfill(status=507, body="full"))
    send(page)

    expect(page.get_by_text("We cannot save it just now.")).to_be_visible()
    page.unroute("**/send/uploads/**")
    saved(page, "Saved: 1 piece")
