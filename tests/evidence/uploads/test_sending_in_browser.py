"""The page to send from, as a phone shows it before anything goes up."""

import re
from collections.abc import Callable, Iterator
from functools import partial

import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect

from evidence.media import (
    HEAD_BYTES,
    LIMITS,
    Kind,
    RefusalReason,
    recognise,
    refusal_words,
)
from evidence.uploads.upload_handler import too_big
from tests.evidence.builders import jpeg
from tests.evidence.media.made import clip, pdf, quarters, voice
from tests.evidence.media.samples import knowing_a_place
from tests.tasks.browsing import opening
from tests.tasks.builders import drafted, gone_out
from tests.village import MONDAY

pytestmark = pytest.mark.django_db(transaction=True)
SOUNDS = (("ipod", "aac"), ("mp3", "libmp3lame"), ("ogg", "libopus"), ("wav", "pcm_s16le"))
PHONE = {"width": 360, "height": 640}


@pytest.fixture
def opened(browser, live_server, village) -> Iterator[Callable[..., Page]]:
    """Return a function that opens a page on a phone as one of the village's people."""
    for open_page in opening(browser, live_server, village):
        yield partial(open_page, **PHONE)


@pytest.fixture
def page(opened, village) -> Page:
    """Return the sending page on a phone; nothing that goes up is let through."""
    gone_out(drafted(village, "main_task"))
    page = opened("family", send_path(village))
    page.route("**/send/uploads/**", lambda route: route.abort())
    page.wait_for_selector("form[data-ready]")
    return page


def send_path(village) -> str:
    return reverse("evidence:send", args=[village.aisha.pk, MONDAY])


def photos(count: int) -> list[dict[str, object]]:
    return [
        {"name": f"{at}.jpg", "mimeType": "image/jpeg", "buffer": jpeg()} for at in range(count)
    ]


def choose(page: Page, *files: object) -> None:
    page.locator("#id_pieces").set_input_files(list(files))
    page.wait_for_selector("[data-tray][aria-busy=false]")


def bottom(page: Page, selector: str) -> float:
    """Return where the last thing that *selector* finds ends on the screen."""
    box = page.locator(selector).last.bounding_box()
    return box["y"] + box["height"]


def test_what_was_chosen_is_seen_on_the_first_screen(page):
    choose(page, *photos(1))

    assert bottom(page, ".chosen-piece") <= PHONE["height"]
    assert page.locator(".chosen-piece img").is_visible()
    # The browser's own words are unseen, so that none says that no file is chosen.
    assert page.locator("#id_pieces").evaluate("field => getComputedStyle(field).opacity") == "0"


def test_a_press_on_send_counts_while_a_photo_is_still_being_looked_at(page):
    with page.expect_request("**/send/uploads/**"):
        page.locator("#id_pieces").set_input_files(photos(6))
        was_busy = page.evaluate("""() => {
          document.querySelector("[data-send-button]").click();
          return document.querySelector("[data-tray]").ariaBusy;
        }""")

    assert was_busy == "true"


def test_twelve_are_one_short_list_and_nothing_in_it_is_dead(page):
    choose(page, *photos(12))

    last = page.locator(".chosen").bounding_box()
    assert page.locator(".chosen-piece").count() == 12
    assert last["height"] <= PHONE["height"]
    assert page.locator(".chosen button:visible").count() == 12
    page.get_by_role("button", name=re.compile("Photo 1 ")).click()
    expect(page.locator("[data-do]:visible")).to_have_text(["Down", "Turn", "Remove"])
    assert page.locator("[data-do]:disabled").count() == 0


def test_an_empty_or_wrong_file_is_refused_at_once_in_the_portals_words(page):
    empty = {"name": "a.jpg", "mimeType": "image/jpeg", "buffer": b""}
    wrong = {"name": "holiday.jpg", "mimeType": "image/jpeg", "buffer": b"<html>" + b" " * 9000}

    choose(page, empty, wrong)

    expect(page.locator("[data-why]:visible")).to_have_text(
        [refusal_words(RefusalReason.EMPTY), refusal_words(RefusalReason.UNKNOWN_KIND)]
    )
    page.get_by_role("button", name="Send", exact=True).click()
    expect(page.locator("[data-told]")).to_contain_text("Take out what is marked")


def test_a_clip_that_is_too_long_or_a_photo_too_large_is_told_before_it_goes_up(page, tmp_path):
    length = LIMITS.seconds + 20
    times = [second / 1.0 for second in range(length)]
    long = clip(tmp_path / "long.mp4", times=times, seconds=length, size=(64, 48), sound=None)
    large = tmp_path / "large.jpg"
    large.write_bytes(jpeg())
    with large.open("ab") as file:
        file.truncate(LIMITS.photo.bytes + 1)

    choose(page, long, large)

    expect(page.locator("[data-why]:visible")).to_have_text(
        [refusal_words(RefusalReason.TOO_LONG), too_big(Kind.PHOTO)]
    )


def test_the_phone_knows_every_kind_that_the_portal_takes(page, tmp_path):
    made = []
    for form in ("JPEG", "PNG", "WEBP", "AVIF", "GIF"):
        made.append(tmp_path / form)
        quarters(40, 30).save(made[-1], form)
    for sound, codec in SOUNDS:
        made.append(voice(tmp_path / sound, sound, codec, seconds=0.1))
    for name in ("photo.heic", "clip.mov"):
        made.append(knowing_a_place(name, tmp_path))
    made += [clip(tmp_path / "a.mp4"), pdf(tmp_path / "a.pdf", 1)]
    heads = [list(path.read_bytes()[:HEAD_BYTES]) for path in made]

    known = page.evaluate(
        """async (heads) => {
          const { kindIn } = await import("/static/evidence/checks.js");
          return heads.map((head) => kindIn(String.fromCharCode(...head)));
        }""",
        heads,
    )

    assert dict(zip(made, known, strict=True)) == {
        path: recognise(path).kind.value for path in made
    }


def test_a_slow_line_is_told_of_in_minutes(page):
    words = page.evaluate(
        """async () => {
          const { LineTime } = await import("/static/evidence/line-time.js");
          const time = new LineTime(document.querySelector("[data-tray]"));
          return [[1e6, 4e6], [1e6, 1.3e8], [1e6, 6e9], [0, 1e6]].map(([rate, left]) => {
            time.rate = rate;
            time.show(left);
            return time.line.hidden ? "" : time.line.textContent;
          });
        }"""
    )
    assert words == [
        "Less than a minute on this line.",
        "About 2 minutes on this line.",
        "This takes a while on this line. It goes on by itself, and nothing is lost.",
        "",
    ]


def test_without_scripts_the_field_names_what_was_chosen(opened, village):
    gone_out(drafted(village, "main_task"))
    plain = opened("family", send_path(village), scripts=False)

    field = plain.locator("#id_pieces")
    field.set_input_files(photos(1))

    assert field.evaluate("field => getComputedStyle(field).opacity") == "1"
