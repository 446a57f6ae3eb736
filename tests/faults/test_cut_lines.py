"""Lines that break again and again: what was sent arrives whole, and hardly a byte goes twice."""

import hashlib
import random
import sys
import time
from contextlib import closing
from pathlib import Path

import pytest
from playwright.sync_api import Page
from tusclient.client import TusClient

from tests.faults.line import line_to
from tests.faults.speaking import begun, bytes_there, film, offset_of, opened, patched, told
from tests.stack import wait_for

pytestmark = [pytest.mark.stack, pytest.mark.proof]
CUTS = 100
BREAKS = 80  # as many as fit into a minute: a phone waits a little before it tries again
SIZE = 20_000_000
MOST_TWICE = 0.05
BLOCK = 1 << 14
SOON = 0.1  # seconds before the client asks how far it had got


def somewhere() -> int:
    """Return after how many bytes a connection is cut, so that a file takes about CUTS of them."""
    return random.randint(1, 2 * SIZE // CUTS)


def sizes_of(scene, content: bytes) -> list[tuple]:
    """Return the size of each piece with this content."""
    digest = hashlib.sha256(content).hexdigest()
    return scene.ask(f"SELECT size FROM evidence_piece WHERE sha256 = '{digest}'")


def check(scene, content: bytes, who: str, cuts: int, sent: int) -> None:
    """Fail unless *content* is there once, and hardly a byte of it went twice."""
    twice = max(0, sent - SIZE) / SIZE
    sys.stdout.write(f"\n{who}: {cuts} cuts, {twice:.2%} sent twice (headers counted)\n")
    assert cuts >= BREAKS
    assert sizes_of(scene, content) == [(SIZE,)]
    assert twice <= MOST_TWICE


def test_the_python_client_gets_a_clip_through_a_hundred_cuts(scene):
    content = film(SIZE)
    path = scene.portal.data / "clip.bin"
    path.write_bytes(content)
    with line_to(scene.portal.port, somewhere) as line:
        client = TusClient(f"{line.url}/send/uploads/", headers={"Cookie": scene.cookie()})
        url = made_upload(client, scene, path)
        client.uploader(str(path), url=url, retries=4 * CUTS, retry_delay=SOON).upload()

        check(scene, content, "tuspy", line.cuts, line.bytes_up)


def made_upload(client: TusClient, scene, path: Path) -> str:
    """Begin an upload, however often the line is cut meanwhile, and give its address."""

    def tried() -> str | None:
        try:
            return client.uploader(str(path), metadata=told(scene)).create_url()
        except Exception:
            return None

    return wait_for(tried, what="the beginning of the upload")


def chosen(scene, page: Page, url: str, path: Path) -> None:
    """Open the sending page at *url*, and choose the clip at *path*."""
    page.goto(f"{url}{scene.send_path()}")
    page.wait_for_selector("form[data-ready]")
    page.get_by_label("Photos, clips").set_input_files(path)
    page.get_by_role("button", name="Clip 1: Remove").wait_for()


def saved(page: Page) -> None:
    """Wait until the portal has said that it is saved."""
    page.wait_for_url("**/sent/*/", timeout=240_000)
    page.get_by_text("Saved: 1 piece").wait_for()


def test_a_phone_that_loses_its_line_eighty_times_sends_hardly_a_byte_twice(scene, phone):
    content = film(SIZE)
    path = scene.portal.data / "clip.mp4"
    path.write_bytes(content)
    with line_to(scene.portal.port) as line:
        page = phone(line.url)
        chosen(scene, page, line.url, path)
        before, line.rate = line.bytes_up, 4e6
        places = sorted(random.uniform(0, SIZE * 0.97) for _ in range(BREAKS))
        page.get_by_role("button", name="Send", exact=True).click()
        for place in places:
            wait_for(lambda at=place: line.bytes_up - before >= at, what="the next break")
            tried = line.refused
            line.take_down()
            wait_for(lambda at=tried: line.refused > at, what="the phone's finding out")
            line.bring_up()
        saved(page)

        check(scene, content, "tus-js-client", BREAKS, line.bytes_up - before)


def test_a_phone_gets_a_clip_through_lines_that_are_reset(scene, phone):
    """The browser itself sends a body again on a new line, so that more goes twice than we ask."""
    content = film(SIZE)
    path = scene.portal.data / "clip.mp4"
    path.write_bytes(content)
    with line_to(scene.portal.port) as line:
        page = phone(line.url)
        chosen(scene, page, line.url, path)
        line.begin_cutting(lambda: random.randint(1, SIZE // 10))
        page.get_by_role("button", name="Send", exact=True).click()
        saved(page)
        cuts = line.cuts

    sys.stdout.write(f"\ntus-js-client, lines reset: {cuts} cuts\n")
    assert cuts >= 10
    assert sizes_of(scene, content) == [(SIZE,)]


def test_a_line_that_is_silent_gives_way_within_five_seconds_with_all_its_bytes(scene):
    content = film(1_000_000)
    address, before = begun(scene, len(content)), bytes_there(scene)
    with closing(opened(scene, address, 0, len(content))) as half_open:
        half_open.sendall(content[:123_456])
        whole = 123_456 // BLOCK * BLOCK
        wait_for(lambda: bytes_there(scene) - before >= whole, what="the bytes on the disk")

        began = time.monotonic()
        assert offset_of(scene, address) == 123_456
        took = time.monotonic() - began

    sys.stdout.write(f"\nHEAD beside a half-open PATCH: {took:.2f} s\n")
    assert took <= 5
    assert patched(scene, address, 123_456, content[123_456:]).status == 204
    assert sizes_of(scene, content) == [(1_000_000,)]


def test_a_second_patch_makes_a_silent_one_give_way_by_itself(scene):
    content = film(20 * BLOCK)
    address, before = begun(scene, len(content)), bytes_there(scene)
    with closing(opened(scene, address, 0, len(content))) as half_open:
        half_open.sendall(content[: 5 * BLOCK])
        wait_for(lambda: bytes_there(scene) - before == 5 * BLOCK, what="the bytes on the disk")

        began = time.monotonic()
        answer = patched(scene, address, 5 * BLOCK, content[5 * BLOCK :])

        # The row says where it stands once the silent one has stopped, and not before.
        assert answer.status == 204
        assert time.monotonic() - began <= 5
    assert sizes_of(scene, content) == [(len(content),)]


@pytest.mark.parametrize("kept", [1, 5_000, 99_999])
def test_a_body_shorter_than_it_says_is_kept_and_never_called_whole(scene, kept):
    content = film(100_000)
    address = begun(scene, len(content))
    with closing(opened(scene, address, 0, len(content))) as cut:
        cut.sendall(content[:kept])

    wait_for(lambda: offset_of(scene, address) == kept, what="the bytes that came")
    assert sizes_of(scene, content) == []


def test_a_body_longer_than_the_upload_is_refused(scene):
    address = begun(scene, 100_000)
    with closing(opened(scene, address, 0, 200_000)) as long:
        long.sendall(film(100_000))

        assert b" 413 " in long.recv(200)
    assert offset_of(scene, address) == 0
