"""The disk fills up while a clip comes in: it is told before 'saved', and goes on later."""

import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from tests.evidence.builders import jpeg
from tests.evidence.uploads.tus.tus import START
from tests.faults.conftest import Scene, started
from tests.faults.portal import NO_MOUNT, may_mount
from tests.faults.speaking import ask, begun, film, offset_of, patched, told, written
from tests.stack import wait_for

pytestmark = [pytest.mark.stack, pytest.mark.proof]
SIZE = 100_000_000  # of the disk; the portal leaves 64 MB of it free when an upload begins


@pytest.fixture(scope="module")
def scene(place) -> Iterator[Scene]:
    """Give a portal whose store is a small file system; where none may be, skip what fills it."""
    if not may_mount():
        pytest.skip(NO_MOUNT)
    media = place / "data" / "media"
    media.mkdir(parents=True)
    subprocess.run(["mount", "-t", "tmpfs", "-o", f"size={SIZE}", "tmpfs", media], check=True)
    try:
        scene = started(place / "data")
        yield scene
        scene.portal.stop()
    finally:
        subprocess.run(["umount", "--lazy", media], check=True)


@contextmanager
def filled(disk: Path) -> Iterator[None]:
    """Leave no byte free on *disk* until the block ends."""
    filler = disk / "filler"
    with filler.open("wb", buffering=0) as file:
        try:
            while file.write(bytes(1 << 16)):
                pass
        except OSError:
            pass
    try:
        yield
    finally:
        filler.unlink()


def test_a_disk_that_fills_up_in_the_middle_costs_nothing_that_was_promised(scene):
    small = jpeg()
    earlier = begun(scene, len(small))
    assert patched(scene, earlier, 0, small).status == 204
    ready = "SELECT p.token FROM evidence_piece p WHERE p.state = 'ready'"
    token = wait_for(lambda: scene.ask(ready), what="the earlier photo")[0][0]
    content = film(20_000_000)
    address = begun(scene, len(content))
    assert patched(scene, address, 0, content[:5_000_000]).status == 204

    with filled(scene.media):
        full = patched(scene, address, 5_000_000, content[5_000_000:])
        said = {"Upload_Length": "9000000", "Upload_Metadata": written(told(scene))}
        beginning = ask(scene, "POST", START, **said)
        shown = ask(scene, "GET", f"/pieces/{token}/display/")

    for answer in (full, beginning):
        assert answer.status == 507
        assert "could not save this just now" in answer.words
    assert shown.status == 200
    offset = offset_of(scene, address)
    assert offset >= 5_000_000
    assert patched(scene, address, offset, content[offset:]).status == 204
    sizes = "SELECT size FROM evidence_piece ORDER BY id DESC LIMIT 1"
    assert scene.ask(sizes) == [(len(content),)]
