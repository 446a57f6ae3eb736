"""A decoder hangs, or is killed as for its memory, or works on what is being taken back."""

import time
from collections.abc import Iterator
from pathlib import Path

import psutil
import pytest

from tests.evidence.media import made
from tests.faults.phone import photo
from tests.faults.portal import WELL, Portal, running
from tests.stack import wait_for

pytestmark = [pytest.mark.stack, pytest.mark.proof]
WALL = 60  # seconds of clock that a photo may take: evidence.media.limits
PATIENCE = 150


@pytest.fixture(scope="module")
def portal(ground, place) -> Iterator[Portal]:
    with running(ground, place / "data", JOB_WORKERS="4") as portal:
        yield portal


@pytest.fixture(scope="module")
def clips(tmp_path_factory) -> list[bytes]:
    """Return clips that take a while, each unlike the others."""
    folder = tmp_path_factory.mktemp("clips")
    return [
        made.clip(folder / f"{number}.mp4", seconds=20 + number, size=(1280, 720)).read_bytes()
        for number in range(3)
    ]


def newest(portal: Portal) -> int:
    return portal.count("SELECT max(id) FROM evidence_piece")


def state(portal: Portal, piece: int) -> tuple:
    return portal.ask(f"SELECT state, attempts FROM evidence_piece WHERE id = {int(piece)}")[0]


def is_at_the_file(process: psutil.Process) -> bool:
    """Whether *process* has its walls up, the last thing before it looks at the file."""
    try:
        status = Path(f"/proc/{process.pid}/status").read_text()
    except (FileNotFoundError, ProcessLookupError):
        return False
    return "Seccomp:\t2" in status


def test_a_decoder_that_hangs_is_tried_again_one_that_is_always_killed_is_parked(
    portal, clips, tmp_path
):
    hanging, killed, next_one = portal.phones()[:3]
    large = tmp_path / "large.png"
    made.quarters(7000, 7000).save(large, compress_level=1)
    assert hanging.send(large.read_bytes()).status == 302
    hung_piece = newest(portal)
    stopped = wait_for(lambda: portal.decoders(hung_piece), 30, "the decoder of the photo")
    for process in stopped:
        process.suspend()
    hung_since = time.monotonic()
    assert killed.send(clips[0]).status == 302
    killed_piece = newest(portal)
    next_one.send(photo(1))

    ends = 0
    while state(portal, killed_piece)[0] == "arrived":
        assert time.monotonic() - hung_since < PATIENCE, portal.said
        for process in filter(is_at_the_file, portal.decoders(killed_piece)):
            process.kill()
            ends += 1
        time.sleep(0.05)

    assert state(portal, killed_piece) == (
        "refused",
        1,
    )  # only an end without a word is counted here
    assert ends >= 3
    assert state(portal, newest(portal)) == ("ready", 1)
    # Once is no verdict: the machine may have been at fault, as it was here.
    wait_for(lambda: state(portal, hung_piece) == ("ready", 1), PATIENCE, "the second attempt")
    assert time.monotonic() - hung_since > WALL - 10
    assert not portal.decoders()
    assert portal.accounts([hanging, killed, next_one]) == WELL


def test_what_is_taken_back_while_it_is_made_ready_never_comes_back(portal, clips):
    phone, teacher = portal.phones()[3], portal.teacher()
    sent = phone.send(clips[1], photo(2)).location
    clip = newest(portal) - 1
    decoders = wait_for(lambda: portal.decoders(clip), 30, "the decoder")
    token = portal.ask(f"SELECT token FROM evidence_piece WHERE id = {int(clip)}")[0][0]

    assert phone.post(f"{sent}withdraw/").status == 302
    wait_for(lambda: not any(each.is_running() for each in decoders), 90, "the decoder's end")
    wait_for(lambda: not list((portal.media / "work").iterdir()), what="the empty workplace")
    portal.wait_until_done()

    standing = "SELECT count(*) FROM evidence_piece WHERE withdrawn_at IS NULL AND id >= "
    assert portal.count(standing + str(clip)) == 0
    for viewer in (phone, teacher):
        for role in ("clip", "poster", "thumb"):
            assert viewer.get(f"/pieces/{token}/{role}/").status == 404
    assert phone.get(sent).status == 404
    phone.saved.clear()
    assert portal.accounts([phone]) == WELL
