"""A push service that takes a line and says nothing holds no job, and no other family, for long."""

import time

import pytest
from freezegun import freeze_time

from evidence.reminders import push
from evidence.reminders.choices import PushPlace
from tests.evidence.builders import make_plan
from tests.evidence.reminders.reminded import chosen, mailed
from tests.ill_servers import drips, hangs, ill_server

pytestmark = pytest.mark.django_db
IN_ALL = 1.5


@pytest.fixture(autouse=True)
def little_time(monkeypatch):
    """Give each call little time."""
    monkeypatch.setattr(push, "TIMEOUT", 1)
    monkeypatch.setattr(push, "IN_ALL", IN_ALL)
    with freeze_time("2026-11-23 16:00", tick=True):
        yield


@pytest.mark.parametrize("trouble", [hangs, drips])
def test_a_push_service_that_never_answers_is_given_up_and_asked_once_a_run(
    village, service, trouble
):
    make_plan(village.robins)
    with ill_server(trouble) as (port, asked):
        for role in ("family", "second home", "other family"):
            user = chosen(village, role)
            PushPlace.keep(user, f"http://127.0.0.1:{port}/{user.pk}")
        began = time.monotonic()
        reached = mailed()
        taken = time.monotonic() - began
    assert len(set(reached)) == 3
    assert len(asked) == 1
    assert taken < IN_ALL + 3
    assert PushPlace.objects.count() == 3


def test_a_name_server_that_never_answers_is_given_up_as_well(village, settings, monkeypatch):
    settings.PUSH_ANYWHERE = False
    make_plan(village.robins)
    PushPlace.keep(chosen(village), "https://push.example/a")
    monkeypatch.setattr(push.socket, "getaddrinfo", lambda *_all, **_more: time.sleep(20))
    began = time.monotonic()
    assert mailed() == ["family@example.org"]
    assert time.monotonic() - began < IN_ALL + 3
