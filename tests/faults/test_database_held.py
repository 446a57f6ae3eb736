"""Somebody holds the database: who sends waits, or is told to try again, and nothing is lost."""

import sqlite3
import threading
from collections.abc import Iterator
from contextlib import contextmanager

import pytest

from tests.faults.phone import Answer, photo
from tests.faults.portal import WELL, Portal, running

pytestmark = [pytest.mark.stack, pytest.mark.proof]


@pytest.fixture(scope="module")
def portal(ground, place) -> Iterator[Portal]:
    with running(ground, place / "data") as portal:
        yield portal


@contextmanager
def held(portal: Portal) -> Iterator[None]:
    """Keep everybody else from writing until the block ends."""
    database = sqlite3.connect(portal.data / "kitchen-counter.sqlite3", isolation_level=None)
    database.execute("PRAGMA busy_timeout = 20000")
    database.execute("BEGIN IMMEDIATE")
    try:
        yield
    finally:
        database.execute("ROLLBACK")
        database.close()


def in_background(send) -> tuple[threading.Thread, list[Answer]]:
    """Begin to *send*; the answer will be in the list."""
    answers: list[Answer] = []
    thread = threading.Thread(target=lambda: answers.append(send()))
    thread.start()
    return thread, answers


def test_who_sends_while_the_database_is_held_for_a_moment_only_waits(portal):
    phone = portal.phones()[0]
    phone.get("/today/")
    with held(portal):
        thread, answers = in_background(lambda: phone.send(photo(1)))
        thread.join(3)
        assert thread.is_alive()
        # Held as it is, a page that had to wait for it would not come at all.
        assert phone.get("/sent/").status == 200
        assert thread.is_alive()
    thread.join(60)

    assert [answer.status for answer in answers] == [302]
    portal.wait_until_done()
    assert portal.accounts([phone]) == WELL


def test_a_database_held_for_long_is_told_of_and_sent_again_it_is_saved_once(portal):
    phone, busy = portal.phones()[1:3]
    for each in (phone, busy):
        each.get("/today/")
    assert busy.send(photo(2)).status == 302
    with held(portal):
        answer = phone.send(photo(3), key="k" * 24, note="With spoons.")
    assert answer.status == 503
    assert "Please send it again in a few minutes." in answer.text
    assert "With spoons." in answer.text

    for _time in range(2):
        assert phone.send(photo(3), key="k" * 24, note="With spoons.").status == 302
    phone.saved = phone.saved[:1]

    portal.wait_until_done()
    assert portal.accounts([phone, busy]) == WELL
    assert portal.count("SELECT count(*) FROM evidence_submission WHERE note != ''") == 1
