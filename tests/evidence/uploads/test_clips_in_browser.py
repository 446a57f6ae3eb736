"""Clips on the phone: made smaller before they go, and cut where they are too long."""

import base64
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path

import av
import pytest
from django.urls import reverse
from PIL import Image
from playwright.sync_api import Page, expect

from tests.evidence.media.made import tone
from tests.standard import faults_of
from tests.tasks.browsing import opening
from tests.tasks.builders import drafted, gone_out
from tests.village import MONDAY

pytestmark = pytest.mark.django_db(transaction=True)
LARGE = (1920, 1080)
PLENTY = 200_000  # bytes a second: 12 MB a minute
KEPT = """async () => {
  const shelf = await import("/static/evidence/shelf.js");
  const [file] = await shelf.all("files");
  const bytes = new Uint8Array(await file.arrayBuffer());
  return btoa(Array.from(bytes, (byte) => String.fromCharCode(byte)).join(""));
}"""


def film(path: Path, *colours: str) -> Path:
    """Film one second of each of *colours* under a grain that no encoder makes small."""
    grain = [Image.effect_noise(LARGE, 120).convert("RGB") for _each in range(3)]
    with av.open(path, "w", format="mp4") as out:
        pictures = out.add_stream("libx264", rate=10, options={"preset": "ultrafast"})
        (pictures.width, pictures.height), pictures.pix_fmt = LARGE, "yuv420p"
        pictures.bit_rate = 17_000_000  # common practice of phones, no source
        sound = out.add_stream("aac", rate=48_000, layout="mono")
        for at in range(10 * len(colours)):
            image = Image.blend(Image.new("RGB", LARGE, colours[at // 10]), grain[at % 3], 0.3)
            out.mux(pictures.encode(av.VideoFrame.from_image(image)))
        out.mux(pictures.encode(None))
        for frame in tone(len(colours)):
            out.mux(sound.encode(frame))
        out.mux(sound.encode(None))
    return path


@pytest.fixture
def page(browser, live_server, village) -> Iterator[Page]:
    """Return the page to send from on a phone that was touched; nothing gets through."""
    gone_out(drafted(village, "main_task"))
    address = f"{reverse('evidence:send', args=[village.aisha.pk, MONDAY])}#send"
    for open_page in opening(browser, live_server, village):
        page = open_page("family", address, 360)
        page.route("**/send/uploads/**", lambda route: route.abort())
        page.wait_for_selector("form[data-ready]")
        page.locator("#send-title").click()  # without a touch, browsers play no sound
        yield page


def choose(page: Page, path: Path) -> None:
    page.locator("#id_pieces").set_input_files(path)
    expect(page.locator(".chosen-piece")).to_have_count(1)


def kept(page: Page) -> bytes:
    """Return the file that waits on the phone."""
    return base64.b64decode(page.evaluate(KEPT))


def seen(clip: bytes) -> tuple[tuple[int, int], float, tuple[int, int, int], bool]:
    """Return of *clip* its size, seconds, the colour it ends with, and whether it sounds."""
    with av.open(BytesIO(clip)) as film:
        frames = [(frame.time, frame) for frame in film.decode(video=0)]
        last = frames[-1][1].to_image().resize((1, 1)).getpixel((0, 0))
        size = frames[-1][1].width, frames[-1][1].height
    with av.open(BytesIO(clip)) as film:
        sound = [abs(frame.to_ndarray()).max() for frame in film.decode(audio=0)]
    return size, frames[-1][0] - frames[0][0], last, max(sound) > 0.01


def test_a_large_clip_is_made_smaller_on_the_phone_with_its_sound(page, tmp_path):
    path = film(tmp_path / "clip.mp4", "red", "red", "red", "blue")
    choose(page, path)
    expect(page.get_by_text("Making it smaller. Keep this page open.")).to_be_visible()
    assert faults_of(page) == []
    expect(page.locator("[data-smaller]")).to_be_hidden()

    size, seconds, colour, sounds = seen(kept(page))
    assert path.stat().st_size > 4 * PLENTY > len(kept(page))
    assert size == (1280, 720)
    assert 3 < seconds < 4.6
    assert colour[2] > colour[0]
    assert sounds


def test_it_can_be_sent_as_it_is_meanwhile_and_send_waits_for_it(page, tmp_path):
    path = film(tmp_path / "clip.mp4", *["red"] * 8)
    choose(page, path)
    page.get_by_role("button", name="Send", exact=True).click()
    expect(page.get_by_text("It goes by itself once the clip is smaller.")).to_be_visible()
    page.get_by_role("button", name="Clip 1: Send it as it is").click()

    expect(page.get_by_text("It waits on this phone, and goes by itself")).to_be_visible()
    assert kept(page) == path.read_bytes()


def test_of_a_clip_that_is_too_long_a_part_can_be_chosen(page, tmp_path):
    page.locator("[data-tray]").evaluate("tray => { tray.dataset.longest = 2; }")
    choose(page, film(tmp_path / "clip.mp4", "red", "red", "red", "blue", "blue", "red"))
    expect(page.get_by_text("This clip is longer than")).to_be_visible()
    expect(page.get_by_role("button", name="Send it as it is")).to_have_count(0)
    assert faults_of(page) == []

    page.get_by_label("Begin at").fill("3")
    expect(page.locator("[data-from]")).to_have_text("0:03")
    page.get_by_role("button", name="minutes from here").click()
    expect(page.locator("[data-smaller]")).to_be_visible()
    expect(page.locator("[data-smaller]")).to_be_hidden()

    expect(page.locator("[data-why]")).to_be_hidden()
    _size, seconds, colour, _sounds = seen(kept(page))
    assert seconds < 2.4
    assert colour[2] > colour[0]


def test_a_browser_without_a_recorder_sends_it_as_it_is(page, tmp_path):
    page.add_init_script("delete window.MediaRecorder;")
    page.reload()
    page.wait_for_selector("form[data-ready]")
    path = film(tmp_path / "clip.mp4", "red", "red")
    choose(page, path)
    expect(page.locator("[data-tray][aria-busy=false]")).to_be_visible()
    expect(page.locator("[data-smaller]")).to_be_hidden()
    assert kept(page) == path.read_bytes()


def test_what_is_being_made_when_the_page_goes_is_still_there(page, tmp_path):
    path = film(tmp_path / "clip.mp4", *["red"] * 8)
    choose(page, path)
    expect(page.locator("[data-smaller]")).to_be_visible()
    page.wait_for_timeout(500)
    page.reload()
    expect(page.locator(".chosen-piece")).to_have_count(1)
    assert kept(page) == path.read_bytes()
