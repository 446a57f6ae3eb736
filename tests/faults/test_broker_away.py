"""The broker stops, or forgets everything, or delivers everything twice: no piece minds."""

import re
import signal
import time

import pytest

from tests.evidence.media import made
from tests.faults.phone import Phone, photo
from tests.faults.portal import WELL, Redis, running
from tests.stack import wait_for

pytestmark = [pytest.mark.stack, pytest.mark.proof]
TO_TURN = "SELECT count(*) FROM evidence_piece WHERE turn != turned AND state = 'ready'"


@pytest.fixture(scope="module")
def broker(place):
    redis = Redis(place).start()
    yield redis
    redis.stop()


@pytest.fixture(scope="module")
def portal(ground, place, broker):
    more = {"REDIS_URL": broker.url, "JOB_WORKERS": "4"}
    with running(ground, place / "data", **more) as portal:
        yield portal


def seconds_of_a_day(phones: list[Phone], first: int) -> tuple[float, str]:
    """Have each of *phones* send a photo, numbered from *first*, and open three pages.

    Gives how long that took, and the address of what was sent first.
    """
    begun = time.monotonic()
    answers = [phone.send(photo(number)) for number, phone in enumerate(phones, first)]
    pages = [phones[0].get(path).status for path in ("/today/", "/sent/", answers[0].location)]
    assert [answer.status for answer in answers] == [302] * 4
    assert pages == [200] * 3
    return time.monotonic() - begun, answers[0].location


def test_with_the_broker_stopped_work_is_taken_pages_open_and_the_rest_is_made_up_for(
    portal, broker
):
    phones = portal.phones()[:4]
    with_it, _shown = seconds_of_a_day(phones, 300)
    portal.wait_until_done()
    broker.stop()

    without_it, shown = seconds_of_a_day(phones, 0)

    # A page that waited for a broker would take its time-out each time it sends a job.
    assert without_it < 3 * with_it + 5
    assert portal.count("SELECT count(*) FROM evidence_piece WHERE state = 'arrived'") == 4
    broker.start()
    portal.wait_until_done()
    assert portal.accounts(phones) == WELL
    assert "ready" in phones[0].get(shown).text


def test_a_broker_that_forgets_everything_costs_nothing_but_a_little_time(portal, broker):
    phones = portal.phones()[4:10]
    worker = portal.part("--without-gossip")
    worker.send_signal(signal.SIGSTOP)
    for number, phone in enumerate(phones, 100):
        assert phone.send(photo(number)).status == 302

    broker.client.flushall()
    worker.send_signal(signal.SIGCONT)

    portal.wait_until_done()
    assert portal.accounts(phones) == WELL
    assert phones[0].get("/sent/").status == 200


def test_every_job_delivered_twice_and_out_of_order_leads_to_the_same(portal, tmp_path):
    phones = portal.phones()[10:16]
    clip = made.clip(tmp_path / "clip.mp4", seconds=2, size=(640, 480)).read_bytes()
    turned = phones[0].send(photo(200), photo(201)).location
    portal.wait_until_done()
    worker = portal.part("--without-gossip")
    worker.send_signal(signal.SIGSTOP)
    for number, phone in enumerate(phones[1:], 202):
        assert phone.send(photo(number), clip + bytes([number])).status == 302
    for token in re.findall(r"/pieces/([^/]+)/turn/", phones[0].get(turned).text):
        assert phones[0].post(f"/pieces/{token}/turn/", turn="90").status == 302

    portal.python("tests.faults.everything_twice")
    portal.python("tests.faults.everything_twice")
    worker.send_signal(signal.SIGCONT)

    portal.wait_until_done()
    wait_for(lambda: portal.count(TO_TURN) == 0, what="the turning")
    wait_for(lambda: not list((portal.media / "work").iterdir()), what="the empty workplace")
    assert portal.ask("SELECT DISTINCT state FROM evidence_piece") == [("ready",)]
    assert (
        portal.ask(
            "SELECT width, height FROM evidence_rendition r JOIN evidence_piece p ON "
            "p.id = r.piece_id WHERE p.turned = 90 AND role = 'display'"
        )
        == [(240, 320)] * 2
    )
    assert portal.accounts(phones) == WELL
    assert "Traceback" not in portal.said
