"""The demo's pages: six presses, each as the right person on the right page."""

import pytest
from django.test import Client
from django.urls import resolve

from portal.demo.cast import CAST, ERRANDS, STEPS
from portal.people.models import User

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize("step", STEPS + ERRANDS, ids=lambda step: step.key)
def test_one_press_signs_in_as_the_right_person_and_opens_the_right_page(cast, step):
    client = Client()
    client.get("/demo/as/office/")
    answer = client.get(f"/demo/step/{step.key}/")
    page = client.get(answer.url)
    if page.status_code == 302:  # the class's week is an address of its own
        page = client.get(page.url)
    assert page.status_code == 200
    assert resolve(answer.url.partition("?")[0]).view_name == step.page
    email = next(person.email for person in CAST if person.key == step.who)
    assert client.session["_auth_user_id"] == str(User.objects.get(email=email).pk)


def test_a_step_leads_nowhere_but_to_its_own_page(cast):
    client = Client()
    assert client.get("/demo/step/elsewhere/").status_code == 404
    asked = client.get("/demo/step/plan/?next=https://example.org/")
    assert asked.url.startswith("/classes/")


def test_the_way_round_has_six_steps_and_everybody_to_come_in_as(cast):
    page = Client().get("/demo/").content.decode()
    assert [f'/demo/step/{step.key}/"' in page for step in STEPS] == [True] * 6
    assert all(f"/demo/as/{person.key}/" in page for person in CAST)


def test_who_opens_the_demo_from_the_network_reads_what_that_means(cast, settings):
    assert "Anybody in this network" not in Client().get("/demo/").content.decode()
    settings.SITE_HOST = "192.168.1.20"
    assert "Anybody in this network" in Client().get("/demo/").content.decode()


def test_nothing_of_the_demo_is_there_in_a_real_portal(village):
    for address in ("/demo/", "/demo/mails/", "/demo/again/", "/demo/step/plan/"):
        assert Client().get(address).status_code == Client().post(address).status_code == 404
