"""How many photos a portal acknowledges in a second, and what becomes of a thousand of them."""

import itertools
import tempfile
import threading
import time
from collections.abc import Iterator
from pathlib import Path

from tests.benchmarks import Figure
from tests.faults.phone import Phone, photo
from tests.faults.portal import Portal, running

PHONES, PHOTOS = 8, 1000
IN_ONE_GO = 4
MINUTES = 15


def measure() -> Iterator[Figure]:
    """Send PHOTOS, IN_ONE_GO with each form, from PHONES at a time to a portal run by `serve`."""
    with tempfile.TemporaryDirectory(prefix="kc-") as folder:
        ground = Path(folder) / "ground"
        Portal(ground).settle()
        with running(ground, Path(folder) / "data") as portal:
            phones = portal.phones()
            drawn = [photo(number) for number in range(PHOTOS)]
            begun = time.monotonic()
            send_all(phones, drawn)
            sending = time.monotonic() - begun
            portal.wait_until_done(MINUTES * 60)
            done = time.monotonic() - begun
            found = portal.accounts(phones)
    saved = sum(len(phone.saved) for phone in phones)
    yield Figure("photos acknowledged", saved, "photos", least=PHOTOS)
    yield Figure("photos acknowledged a second", saved / sending, "a second")
    yield Figure("photos ready a second", saved / done, "a second")
    for fault, count in found.items():
        yield Figure(f"of them {fault}", count, "photos", most=0)


def send_all(phones: list[Phone], drawn: list[bytes]) -> None:
    """Send every photo once; PHONES are on the line at any time, each of another home."""
    left = iter(range(0, PHOTOS, IN_ONE_GO))
    lock = threading.Lock()

    def send(mine: Iterator[Phone]) -> None:
        for phone in mine:
            with lock:
                first = next(left, None)
            if first is None:
                return
            phone.send(*drawn[first : first + IN_ONE_GO])

    senders = [
        threading.Thread(target=send, args=(itertools.cycle(phones[number::PHONES]),))
        for number in range(PHONES)
    ]
    for sender in senders:
        sender.start()
    for sender in senders:
        sender.join()
