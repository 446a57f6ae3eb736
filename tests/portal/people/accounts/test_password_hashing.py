"""Passwords are checked one at a time, and whoever would wait too long is told so."""

import time
from concurrent.futures import ThreadPoolExecutor
from threading import Event, Thread

import pytest
from django.contrib.auth.hashers import check_password, identify_hasher, make_password
from django.urls import reverse

from portal import settings as real
from portal.people.accounts import password_hashing
from portal.people.accounts.password_hashing import Gate, OneAtATime, TooBusyError


@pytest.fixture(autouse=True)
def as_people_have_it(settings):
    """Hash as the portal does; the other tests have a quick stand-in."""
    settings.PASSWORD_HASHERS = ["portal.people.accounts.password_hashing.OneAtATime"]


def test_the_portal_hashes_behind_the_gate():
    text = (real.BASE_DIR / "portal/settings.py").read_text()
    assert 'PASSWORD_HASHERS = ["portal.people.accounts.password_hashing.OneAtATime"]' in text
    assert isinstance(identify_hasher(make_password("a kitchen")), OneAtATime)


def test_a_password_hashed_by_the_figures_of_before_still_opens_and_is_hashed_anew(settings):
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.Argon2PasswordHasher"]
    old = make_password("a kitchen")
    settings.PASSWORD_HASHERS = ["portal.people.accounts.password_hashing.OneAtATime"]
    kept = []
    assert check_password("a kitchen", old, setter=kept.append)
    assert kept == ["a kitchen"]
    assert not check_password("a garden", old)


def test_never_more_than_one_is_inside_and_the_gate_is_free_after_an_error():
    gate, inside, most = Gate(), [0], [0]

    def go_through(number: int) -> None:
        with gate.turn():
            inside[0] += 1
            most[0] = max(most[0], inside[0])
            time.sleep(0.005)  # long enough for others to come in, if they may
            inside[0] -= 1
            if number % 3 == 0:
                raise ValueError

    with ThreadPoolExecutor(12) as crowd:
        ended = [crowd.submit(go_through, number) for number in range(36)]
    assert sum(each.exception() is not None for each in ended) == 12
    assert most == [1]
    with gate.turn():
        pass


def test_whoever_comes_to_a_full_line_is_sent_away_at_once(monkeypatch):
    monkeypatch.setattr(password_hashing, "MOST_WAITING", 2)
    gate, done = Gate(), Event()

    def wait_outside() -> None:
        with gate.turn():
            done.wait(30)

    waiting = [Thread(target=wait_outside) for _number in range(3)]
    for each in waiting:
        each.start()
    while gate.waiting < 2:
        done.wait(0.001)
    with pytest.raises(TooBusyError), gate.turn():
        pass
    done.set()
    for each in waiting:
        each.join()


@pytest.mark.django_db
def test_who_is_sent_away_reads_why_and_may_try_again(village, client, monkeypatch):
    monkeypatch.setattr(password_hashing, "LONGEST_WAIT", 0.01)
    with password_hashing.GATE.turn():
        answer = client.post(
            reverse("people:staff-sign-in"), {"email": "teacher@example.org", "password": "x"}
        )
    assert answer.status_code == 503
    assert answer.headers["Retry-After"] == "10"
    assert "Wait ten seconds" in answer.content.decode()
