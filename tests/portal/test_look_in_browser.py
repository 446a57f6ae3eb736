"""The parts do their work in a real browser, and still do the main of it without scripts."""

import re
import threading
from collections.abc import Iterator
from wsgiref.simple_server import WSGIRequestHandler, WSGIServer, make_server

import pytest
from django.contrib.staticfiles.handlers import StaticFilesHandler
from django.core.wsgi import get_wsgi_application
from playwright.sync_api import Browser, Page, expect

from tests.standard import faults_of

SPEECH = """window.said = []; window.voices = VOICES; window.outcome = "start";
window.SpeechSynthesisUtterance = class { constructor(text) { this.text = text; } };
Object.defineProperty(window, "speechSynthesis", {value: Object.assign(new EventTarget(), {
  cancel() {}, getVoices: () => voices,
  speak(words) {
    said.push([words.text, words.lang]);
    if (outcome === "start") words.onstart();
    if (outcome === "fault") words.onerror({error: "synthesis-failed"});
  },
})});"""
NO_SPEECH = "Object.defineProperty(window, 'speechSynthesis', {value: undefined});"
LATE = """voices => { window.voices = voices;
speechSynthesis.dispatchEvent(new Event("voiceschanged")); }"""
ENGLISH, TURKISH = "[{lang: 'en-GB'}]", "[{lang: 'tr-TR'}]"
LISTEN, ONCE_MORE = ({"name": name, "exact": True} for name in ("Listen", "Listen once more"))
UNHEARD = "cannot say these words aloud"


class Quiet(WSGIRequestHandler):
    """Answer without writing a log."""

    def log_message(self, *args: object) -> None:
        """Say nothing."""


class Threaded(WSGIServer):
    """Take a page's many requests one after another, never stopping for one that ends badly."""

    request_queue_size = 64

    def handle_error(self, *args: object) -> None:
        """Let a browser go that went away."""


@pytest.fixture
def site(settings) -> Iterator[str]:
    settings.ROOT_URLCONF = "tests.portal.gallery_site"
    settings.ALLOWED_HOSTS = ["127.0.0.1"]
    application = StaticFilesHandler(get_wsgi_application())
    server = make_server("127.0.0.1", 0, application, Threaded, Quiet)
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    yield f"http://127.0.0.1:{server.server_port}"
    server.shutdown()
    server.server_close()


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    """Return a page whose console must stay empty: breaches of the policy are written there."""
    context = browser.new_context(viewport={"width": 360, "height": 740})
    page = context.new_page()
    said: list[str] = []
    page.on("console", lambda message: said.append(message.text))
    page.on("pageerror", lambda error: said.append(str(error)))
    yield page
    context.close()
    assert [line for line in said if "ERR_" not in line] == []


@pytest.mark.parametrize("at", ["family", "staff"])
@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [320, 1280])
@pytest.mark.parametrize("direction", ["ltr", "rtl"])
def test_no_fault_of_access_is_found_on_any_part(page, site, at, scheme, width, direction):
    page.emulate_media(color_scheme=scheme)
    page.set_viewport_size({"width": width, "height": 740})
    page.goto(f"{site}/?at={at}")
    page.evaluate("where => { document.documentElement.dir = where }", direction)
    assert faults_of(page) == []


def test_what_has_the_focus_is_not_hidden_by_the_bar_at_the_foot(page, site):
    page.goto(f"{site}/?at=family")
    for _ in range(40):
        page.keyboard.press("Tab")
        hidden = page.evaluate("""() => {
            const at = document.activeElement.getBoundingClientRect();
            const bar = document.querySelector(".family-places");
            return !bar.contains(document.activeElement) &&
                at.top >= bar.getBoundingClientRect().top;
        }""")
        assert not hidden, page.evaluate("document.activeElement.outerHTML")


def test_a_finger_writes_a_number_and_rubs_it_out(page, site):
    page.goto(f"{site}/?at=family")
    keys = page.get_by_role("group", name="Number keys").last
    for digit in "1204":
        keys.get_by_role("button", name=digit, exact=True).click()
    expect(page.locator("#second")).to_have_value("120")  # of three digits at most
    keys.get_by_role("button", name="Rub out").click()
    expect(page.locator("#second")).to_have_value("12")


def test_an_action_is_asked_about_and_can_be_left(page, site):
    page.goto(f"{site}/?at=family")
    page.get_by_role("link", name="Take back").click()
    question = page.get_by_role("dialog", name="Take this photo back?")
    expect(question).to_be_visible()
    question.get_by_text("No, go back").click()
    expect(question).to_be_hidden()


def test_without_scripts_an_action_is_still_asked_about_and_a_number_still_written(browser, site):
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{site}/?at=family")
    page.get_by_role("link", name="Take back").click()
    expect(page.get_by_role("button", name="Take it back")).to_be_visible()
    page.get_by_text("No, go back").click()
    expect(page.get_by_role("button", name="Take it back")).to_be_hidden()
    page.get_by_label("How many altogether?").fill("7")
    expect(page.locator(".number-keys").first).to_be_hidden()
    expect(page.locator("[data-speak]").first).to_be_hidden()
    context.close()


def test_a_card_is_said_part_by_part_in_its_language(page, site):
    page.add_init_script(SPEECH.replace("VOICES", "[{lang: 'en-GB'}]"))
    page.goto(f"{site}/?at=family")
    page.get_by_role("button", name="Listen", exact=True).click()
    assert page.evaluate("said") == [
        ["Half of eight", "en"],
        ["Share eight spoons between two plates. How many on each?", "en"],
        ["Eight shared between two.", "en"],
    ]
    expect(page.get_by_role("button", name="Listen", exact=True)).to_have_attribute(
        "aria-pressed", "true"
    )
    expect(page.locator(".sum")).to_have_class("sum being-said")


def at_gallery(page: Page, site: str, script: str) -> None:
    """Open the page of parts where speech is as *script* has it."""
    page.add_init_script(script)
    page.goto(f"{site}/?at=family")


def says_so_once(page: Page, button: str = "Listen once more") -> None:
    """Check that the page says so once, and that the button is marked."""
    expect(page.get_by_text(UNHEARD)).to_have_count(1)
    expect(page.get_by_text(UNHEARD)).to_be_visible()
    expect(page.get_by_role("button", name=button, exact=True)).to_have_accessible_description(
        re.compile(UNHEARD)
    )


@pytest.mark.parametrize("script", [NO_SPEECH, SPEECH.replace("VOICES", TURKISH)])
def test_where_no_voice_knows_the_language_the_page_says_so_and_gives_the_words_to_read(
    page, site, script
):
    at_gallery(page, site, script)
    says_so_once(page)
    says_so_once(page, "Listen")
    page.get_by_role("button", **ONCE_MORE).click()
    expect(page.locator(".to-read")).to_have_text("Count to 4.\nThen stop.")
    says_so_once(page)
    assert not page.evaluate("window.said?.length")


def test_a_voice_that_knows_the_language_leaves_nothing_to_say(page, site):
    at_gallery(page, site, SPEECH.replace("VOICES", ENGLISH))
    expect(page.get_by_role("button", **LISTEN)).to_be_visible()
    expect(page.get_by_text(UNHEARD)).to_be_hidden()
    expect(page.locator(".listen[aria-describedby]")).to_have_count(0)


def test_speech_that_ends_in_a_fault_is_not_met_with_silence(page, site):
    at_gallery(page, site, SPEECH.replace("VOICES", ENGLISH))
    page.evaluate("outcome = 'fault'")
    button = page.get_by_role("button", **ONCE_MORE)
    button.click()
    says_so_once(page)
    expect(button).to_have_attribute("aria-pressed", "false")
    expect(page.locator(".to-read")).to_have_text("Count to 4.\nThen stop.")
    page.evaluate("outcome = 'start'")
    button.click()
    expect(page.get_by_text(UNHEARD)).to_be_hidden()
    expect(page.locator(".to-read")).to_have_count(0)


def test_speech_that_never_begins_is_given_up_after_three_seconds(page, site):
    page.clock.install()
    at_gallery(page, site, SPEECH.replace("VOICES", ENGLISH))
    page.evaluate("outcome = 'nothing'")
    page.get_by_role("button", **ONCE_MORE).click()
    page.clock.run_for(1000)  # what the test itself takes counts as well
    expect(page.get_by_text(UNHEARD)).to_be_hidden()
    page.clock.run_for(2100)
    says_so_once(page)


def test_voices_that_come_late_are_waited_for(page, site):
    at_gallery(page, site, SPEECH.replace("VOICES", "[]"))
    button = page.get_by_role("button", **ONCE_MORE)
    button.click()
    assert page.evaluate("said") == []
    page.evaluate(LATE, [{"lang": "en-GB"}])
    assert page.evaluate("said") == [["Count to 4.", "en"], ["Then stop.", "en"]]
    expect(page.get_by_text(UNHEARD)).to_be_hidden()


def test_voices_that_come_too_late_are_used_at_the_next_press(page, site):
    page.clock.install()
    at_gallery(page, site, SPEECH.replace("VOICES", "[]"))
    button = page.get_by_role("button", **ONCE_MORE)
    button.click()
    page.clock.run_for(3100)
    says_so_once(page)
    says_so_once(page, "Listen")  # nobody waits a second time
    page.evaluate(LATE, [{"lang": "en-GB"}])
    expect(page.get_by_text(UNHEARD)).to_be_hidden()
    button.click()
    assert page.evaluate("said.length") == 2


def test_late_voices_of_other_languages_alone_say_nothing(page, site):
    at_gallery(page, site, SPEECH.replace("VOICES", "[]"))
    page.get_by_role("button", **ONCE_MORE).click()
    page.evaluate(LATE, [{"lang": "tr-TR"}])
    says_so_once(page)
    assert page.evaluate("said") == []


def test_one_key_does_what_its_button_does_unless_keys_are_switched_off(page, site):
    page.goto(site)
    page.keyboard.press("3")
    expect(page.get_by_label("independently").first).to_be_checked()
    page.keyboard.press("?")
    page.get_by_label("Use single keys").uncheck()
    page.get_by_role("button", name="Close").click()
    page.keyboard.press("1")
    expect(page.get_by_label("independently").first).to_be_checked()
    assert page.evaluate("Object.entries(localStorage)") == [["keys", "off"]]
    page.reload()
    page.keyboard.press("1")
    expect(page.get_by_label("independently").first).not_to_be_checked()
    expect(page.get_by_label("with support").first).to_be_checked()


def test_a_key_pressed_in_a_field_is_only_written(page, site):
    page.goto(site)
    page.get_by_label("How many altogether?").press("3")
    expect(page.locator("#second")).to_have_value("3")
    expect(page.get_by_label("with support").first).to_be_checked()


def attach(page: Page, content: bytes) -> None:
    """Put a file into the form."""
    photo = {"name": "spoons.jpg", "mimeType": "image/jpeg", "buffer": content}
    page.get_by_label("Photo").set_input_files(photo)


def test_a_photo_that_was_sent_leads_to_the_next_page(page, site):
    page.goto(f"{site}/send")
    attach(page, b"photo")
    page.get_by_role("button", name="Send").click()
    page.wait_for_url("**/?at=family&got=spoons.jpg")


def test_a_photo_that_was_refused_keeps_the_page_and_says_why(page, site):
    page.goto(f"{site}/send")
    attach(page, b"a story")
    page.get_by_role("button", name="Send").click()
    expect(page.get_by_text("That was not a photo.")).to_be_focused()
    page.get_by_role("button", name="4", exact=True).click()
    expect(page.locator("#answer")).to_have_value("4")


def test_a_photo_that_could_not_be_sent_is_kept_and_can_be_sent_again(page, site):
    page.goto(f"{site}/send")
    attach(page, b"photo")
    page.route("**/send", lambda route: route.abort())
    page.get_by_role("button", name="Send").click()
    expect(page.get_by_role("alert")).to_contain_text("Not sent. Nothing is lost")
    page.unroute("**/send")
    page.get_by_role("button", name="Send").click()
    page.wait_for_url("**/?at=family&got=spoons.jpg")


def test_a_piece_becomes_ready_before_ones_eyes(page, site):
    page.goto(f"{site}/send")
    expect(page.locator(".status")).to_have_text("being made ready")
    expect(page.locator(".status")).to_have_text("ready")
    expect(page.locator("[data-poll]")).to_have_count(0)
