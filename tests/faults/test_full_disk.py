"""The disk is full: it is said before 'saved', what was saved is shown, and all goes on later."""

import errno
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from tests.faults.phone import photo
from tests.faults.portal import NO_MOUNT, WELL, Portal, may_mount, running
from tests.stack import wait_for

pytestmark = [pytest.mark.stack, pytest.mark.proof]
SIZE = "64m"
FULL = "No space left on device"


@pytest.fixture(scope="module")
def disk(place) -> Iterator[Path]:
    """Mount a small file system; where that is not allowed, skip what fills it."""
    if not may_mount():
        pytest.skip(NO_MOUNT)
    disk = place / "disk"
    disk.mkdir()
    subprocess.run(["mount", "-t", "tmpfs", "-o", f"size={SIZE}", "tmpfs", disk], check=True)
    yield disk
    subprocess.run(["umount", disk], check=True)


@pytest.fixture(scope="module")
def portal(ground, place, disk) -> Iterator[Portal]:
    """Return a portal with all its data on the small disk, but for what it prints."""
    data = disk / "data"
    data.mkdir()
    (data / "said").symlink_to(place / "said")
    with running(ground, data) as portal:
        yield portal


@contextmanager
def filled(disk: Path) -> Iterator[None]:
    """Leave no byte free on *disk* until the block ends."""
    filler = disk / "filler"
    with filler.open("wb", buffering=0) as file:
        for size in (1 << 20, 1 << 12, 1):
            try:
                while file.write(bytes(size)):
                    pass
            except OSError as error:
                assert error.errno == errno.ENOSPC
    try:
        yield
    finally:
        filler.unlink()


def test_a_full_disk_is_told_of_before_saved_and_passes(portal, disk):
    phone, other = portal.phones()[:2]
    earlier = phone.send(photo(1)).location
    portal.wait_until_done()
    token = portal.ask("SELECT token FROM evidence_piece")[0][0]
    before = phone.get(f"/pieces/{token}/thumb/")
    assert "Saved" in phone.get(earlier).text

    with filled(disk):
        refused = phone.send(photo(2), key="k" * 24)
        words_only = other.send(note="Counted the spoons.", key="w" * 24)
        shown = [phone.get(path).status for path in (earlier, "/sent/", "/today/")]
        still = phone.get(f"/pieces/{token}/thumb/")

    for answer in (refused, words_only):
        assert answer.status == 503
        assert "Please send it again in a few minutes." in answer.text
        assert "Saved" not in answer.text
    assert "Counted the spoons." in words_only.text
    assert shown == [200] * 3
    assert (before.status, still.status, still.body) == (200, 200, before.body)

    assert phone.send(photo(2), key="k" * 24).status == 302
    assert other.send(note="Counted the spoons.", key="w" * 24).status == 302
    portal.wait_until_done()
    assert portal.accounts([phone, other]) == WELL
    assert portal.count("SELECT count(*) FROM evidence_submission") == 3


def test_a_disk_that_fills_up_before_the_copies_are_made_loses_no_piece(portal, disk):
    phone = portal.phones()[2]
    worker = portal.part("--without-gossip")
    worker.suspend()
    assert phone.send(photo(3)).status == 302

    before = len(portal.said)
    with filled(disk):
        worker.resume()
        wait_for(lambda: FULL in portal.said[before:], what="the trouble")

    portal.wait_until_done()
    assert portal.accounts([phone]) == WELL
