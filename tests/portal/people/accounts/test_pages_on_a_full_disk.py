"""A page is served although nothing can be written, and never for a session that was ended."""

import pytest
from django.contrib.sessions.models import Session
from django.db import OperationalError
from django.test import Client

from portal.people.accounts import sessions
from portal.people.models import Device

pytestmark = pytest.mark.django_db
PAGE = "/sent/"


@pytest.fixture
def family(signed_in) -> Client:
    client = signed_in("family")
    client.get(PAGE)
    return client


def full(*args: object, **kwargs: object) -> None:
    raise OperationalError("database or disk is full")


def test_a_page_is_served_though_its_session_cannot_be_saved(family, monkeypatch):
    session = family.session
    session["something"] = "to be forgotten"
    session.save()
    monkeypatch.setattr(sessions, "note_presence", lambda request: request.session.pop("something"))
    monkeypatch.setattr(Session, "save", full)

    assert family.get(PAGE).status_code == 200


def test_a_page_is_served_though_it_cannot_be_noted_who_is_here(village, monkeypatch):
    client = Client()
    client.force_login(village.people["family"])
    with monkeypatch.context() as patched:
        patched.setattr(Device.objects.__class__, "update_or_create", full)
        assert client.get(PAGE).status_code == 200
    assert not Device.objects.exists()

    assert client.get(PAGE).status_code == 200
    assert Device.objects.count() == 1


def test_a_session_that_was_ended_meanwhile_gets_no_page(family, monkeypatch):
    def end_elsewhere(request) -> None:
        request.session["something"] = "new"
        Session.objects.all().delete()

    monkeypatch.setattr(sessions, "note_presence", end_elsewhere)

    assert family.get(PAGE).status_code == 400
