"""The portal is stopped and started again, as for a new version, while families send."""

import http.client
import secrets
import threading
from collections.abc import Iterator

import pytest

from tests.evidence.uploads.tus.tus import BYTES, encoded
from tests.faults.phone import Phone, photo
from tests.faults.portal import WELL, Portal, running
from tests.stack import wait_for

pytestmark = [pytest.mark.stack, pytest.mark.proof]
PHONES, EACH = 4, 12
TUS = {"Tus-Resumable": "1.0.0"}


@pytest.fixture
def portal(ground, place) -> Iterator[Portal]:
    with running(ground, place / "data") as portal:
        yield portal


def send_until_saved(phone: Phone, number: int, over: threading.Event) -> None:
    """Send one photo, again and again with the same form, until it is acknowledged."""
    key = secrets.token_urlsafe(18)
    while not over.is_set():
        try:
            if phone.send(photo(number), key=key, timeout=30).status == 302:
                return
        except (OSError, http.client.HTTPException):
            pass
        over.wait(0.3)


def send_all(phone: Phone, first: int, over: threading.Event) -> None:
    for number in range(first, first + EACH):
        send_until_saved(phone, number, over)


def half_sent(phone: Phone, content: bytes) -> str:
    """Begin a resumable upload with the first half of *content*, and give its address."""
    told = {"child": str(phone.child), "day": phone.day, "form": secrets.token_urlsafe(18)}
    metadata = ",".join(f"{name} {encoded(value)}" for name, value in told.items())
    length = {"Upload-Length": str(len(content)), "Upload-Metadata": metadata}
    begun = phone.ask("POST", "/send/uploads/", b"", **TUS, **length)
    assert begun.status == 201, begun.text
    half = content[: len(content) // 2]
    kept = phone.ask(
        "PATCH", begun.location, half, **TUS, **{"Upload-Offset": "0", "Content-Type": BYTES}
    )
    assert kept.status == 204, kept.text
    return begun.location


def test_what_was_acknowledged_around_two_restarts_is_there_once(portal):
    phones = portal.phones()[:PHONES]
    patient = portal.phones()[PHONES]
    content = photo(10_000, (1600, 1200))
    upload = half_sent(patient, content)
    over = threading.Event()
    senders = [
        threading.Thread(target=send_all, args=(phone, number * EACH, over))
        for number, phone in enumerate(phones)
    ]
    for sender in senders:
        sender.start()

    for so_far in (PHONES, PHONES * EACH // 2):
        wait_for(lambda so_far=so_far: sum(len(p.saved) for p in phones) >= so_far, 120, "some")
        portal.process.terminate()
        assert portal.process.wait(60) == 0
        portal.start()
    for sender in senders:
        sender.join(120)
    over.set()

    assert [len(phone.saved) for phone in phones] == [EACH] * PHONES
    portal.wait_until_done()
    assert portal.accounts(phones) == WELL
    rest = {"Upload-Offset": str(len(content) // 2), "Content-Type": BYTES}
    assert patient.ask("PATCH", upload, content[len(content) // 2 :], **TUS, **rest).status == 204
    portal.wait_until_done()
    assert portal.count("SELECT count(*) FROM evidence_piece") == PHONES * EACH + 1
