"""Starting again gives the invented school back, and never touches a real one."""

import datetime as dt
from io import StringIO

import pytest
from django.core.management import CommandError, call_command
from django.test import Client
from freezegun import freeze_time

from assessment.management.commands import demo_school
from portal import demo_date
from portal.demo.again import BeingMadeError, start_again
from portal.people.models import Child, School
from tests.portal.demo import urls

pytestmark = pytest.mark.django_db


@pytest.fixture
def demo(settings, tmp_path):
    """Turn this portal into a demo with an empty data folder."""
    settings.DEMO, settings.DATA_DIR, settings.MEDIA_ROOT = True, tmp_path, tmp_path / "media"
    settings.ROOT_URLCONF = urls.__name__
    return settings


def test_a_real_school_is_never_started_again(demo, village):
    with pytest.raises(CommandError, match="belongs to a real school"):
        start_again()
    demo.DEMO = False
    demo_date.mark().touch()
    with pytest.raises(CommandError, match="Only a demo"):
        start_again()
    assert School.objects.count() == 2


def test_two_presses_at_once_make_one_school(demo, monkeypatch):
    def press_once_more(*_words: str) -> None:
        with pytest.raises(BeingMadeError):
            start_again()

    monkeypatch.setattr("portal.demo.again.call_command", press_once_more)
    start_again()


def test_a_press_gives_the_school_back_as_it_was_for_the_day_it_is(demo, tmp_path):
    with freeze_time("2026-11-25 16:30"):
        call_command("demo_school")
        assert demo_date.shown() == dt.date(2026, 11, 25)
        children = Child.objects.count()
        Child.objects.filter(first_name="Mina").update(first_name="Changed")
        left = tmp_path / "media" / "left over"
        left.touch()
    with freeze_time("2026-11-28 16:30"):
        said = StringIO()
        call_command("demo_school", stdout=said)
        assert "its day is Wednesday 25 November" in said.getvalue()
    with freeze_time("2026-11-29 16:30"):
        client = Client()
        client.get("/demo/as/teacher/")
        assert client.get("/demo/again/").status_code == 405
        answer = client.post("/demo/again/", follow=True)
        assert "as it was at the beginning" in answer.content.decode()
        assert client.get("/").url.startswith("/sign-in/")
        assert demo_date.shown() == dt.date(2026, 11, 27)
        call_command("demo_school", stdout=(silent := StringIO()))
        assert not silent.getvalue()
        assert client.get("/demo/step/plan/").url == "/classes/1/plan/"
    assert Child.objects.count() == children
    assert Child.objects.filter(first_name="Mina").exists()
    assert not left.exists()
    assert not demo_school.drawn().exists()


def test_a_school_that_cannot_be_made_leaves_the_one_there_is(demo, village, monkeypatch):
    demo_date.show(dt.date(2026, 11, 25))

    def fail() -> None:
        raise RuntimeError

    monkeypatch.setattr(demo_school, "make", fail)
    with pytest.raises(RuntimeError):
        start_again()
    assert School.objects.count() == 2
    assert demo_date.shown() == dt.date(2026, 11, 25)
