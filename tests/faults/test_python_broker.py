"""The demo on a machine without Redis: its broker in Python is killed, and no piece minds."""

import re
import signal
from collections.abc import Iterator

import pytest

from tests.faults.phone import photo
from tests.faults.portal import WELL, Portal, running
from tests.stack import wait_for

pytestmark = [pytest.mark.stack, pytest.mark.proof]
EACH = 4


@pytest.fixture(scope="module")
def portal(ground, place) -> Iterator[Portal]:
    with running(ground, place / "data", "demo", BROKER="python") as portal:
        wait_for(lambda: "is ready" in portal.said, what="its worker")
        yield portal


def killed(portal: Portal, parts: dict[str, str]) -> None:
    """Kill *parts* (word in the command → name for people) at once; wait until they are back."""
    victims = [portal.part(word) for word in parts]
    told = {name: portal.said.count(f"The {name} ended") for name in parts.values()}
    for victim in victims:
        victim.send_signal(signal.SIGKILL)
    for name, before in told.items():
        again = f"The {name} ended and is started again."
        wait_for(lambda again=again, before=before: portal.said.count(again) > before, what=again)


def test_it_says_which_broker_it_has(portal):
    said = [line for line in portal.said.splitlines() if line.startswith("Job broker:")]
    assert said == [
        "Job broker: the Python one of the fakeredis library, for the demo and tests alone."
    ]


def test_a_photo_that_is_sent_is_cleaned_and_the_teacher_sees_it(portal):
    phone = portal.phones()[0]
    sent = phone.send(photo(1))
    assert sent.status == 302
    portal.wait_until_done()
    # The original goes a moment after its row says so.
    wait_for(lambda: portal.accounts([phone]) == WELL, what="nothing but what belongs there")
    robins = portal.count("SELECT school_class_id FROM people_child WHERE first_name = 'Child0'")
    teacher = portal.teacher()
    queue = teacher.get(f"/classes/{robins}/look/").text
    look = re.search(r'href="(/look/[^"]+)"', queue)
    assert look, queue
    shown = re.search(r'<img[^>]* src="(/pieces/[^"]+)"', teacher.get(look[1]).text)
    assert shown, teacher.get(look[1]).text
    assert teacher.get(shown[1]).body.startswith(b"\xff\xd8\xff")


@pytest.mark.parametrize(
    "parts",
    [
        {"python_broker": "job broker"},
        {"--without-gossip": "worker"},
        {"python_broker": "job broker", "--without-gossip": "worker"},
    ],
    ids=["broker", "worker", "both"],
)
def test_nothing_is_lost_when_it_is_killed_with_jobs_in_hand(portal, parts, request):
    first = 1 + EACH * ("broker", "worker", "both").index(request.node.callspec.id)
    phones = portal.phones()[first : first + EACH]
    worker = portal.part("--without-gossip")
    worker.send_signal(signal.SIGSTOP)  # So that jobs wait in the broker, and some in the worker.
    for number, phone in enumerate(phones, 100 * first):
        assert phone.send(photo(number), photo(number + 50)).status == 302
    worker.send_signal(signal.SIGCONT)

    killed(portal, parts)

    portal.wait_until_done()
    assert portal.accounts(phones) == WELL
