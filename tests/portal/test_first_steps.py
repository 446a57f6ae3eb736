"""First steps: shown to somebody new, ticked by what is done, put away for good."""

import re

import pytest
from django.urls import reverse
from django.utils import timezone

from assessment.goals.goal_sets import load_frameworks
from assessment.models import Look
from portal.people.models import Consent, Purpose, User
from tests.tasks.builders import drafted, gone_out, send_work

pytestmark = pytest.mark.django_db
START = {
    "family": "tasks:today",
    "teacher": "assessment:queue",
    "assistant": "assessment:queue",
    "lead": "people:classes",
    "office": "people:classes",
}


def start_page(village, role: str) -> str:
    """Return the address on which *role* starts."""
    needs_class = START[role] == "assessment:queue"
    return reverse(START[role], args=[village.robins.pk] if needs_class else [])


def strip_on(client, address: str) -> str:
    """Return the HTML of the strip on a page; "" where there is none."""
    page = client.get(address).content.decode()
    found = re.search(r'<section class="first-steps".*?</section>', page, re.DOTALL)
    return found[0] if found else ""


@pytest.mark.parametrize("role", START)
def test_somebody_new_is_shown_four_to_six_steps_that_lead_somewhere(village, signed_in, role):
    load_frameworks()
    gone_out(drafted(village, "main_task"))
    client = signed_in(role)
    strip = strip_on(client, start_page(village, role))
    links = re.findall(r'<a href="([^"]+)"', strip)
    assert 4 <= strip.count("<li") <= 6
    assert {client.get(link, follow=True).status_code for link in links} == {200}


@pytest.mark.parametrize("role", START)
def test_put_away_with_one_press_they_stay_away_until_asked_for(village, signed_in, role):
    client, address = signed_in(role), start_page(village, role)
    client.post(reverse("first-steps-away"))
    assert strip_on(client, address) == ""
    assert reverse("first-steps-again") in client.get(reverse("people:account")).content.decode()
    client.post(reverse("first-steps-again"))
    assert strip_on(client, address)


def test_a_step_ticks_itself_off_when_it_is_done(village, signed_in):
    load_frameworks()
    submission = send_work(village, gone_out(drafted(village, "main_task")))
    client, address = signed_in("teacher"), start_page(village, "teacher")
    assert "Look at a piece of work and answer</a>" in strip_on(client, address)
    Look.objects.create(submission=submission, looked_by=village.people["teacher"])
    assert "Done: </span>Look at a piece of work and answer" in strip_on(client, address)


def test_what_somebody_else_did_ticks_nothing(village, signed_in):
    submission = send_work(village, gone_out(drafted(village, "main_task")))
    Look.objects.create(submission=submission, looked_by=village.people["assistant"])
    strip = strip_on(signed_in("teacher"), start_page(village, "teacher"))
    assert "Look at a piece of work and answer</a>" in strip


def test_a_strip_with_everything_done_is_gone(village, signed_in):
    family = village.people["family"]
    send_work(village, gone_out(drafted(village, "main_task")))
    village.aisha.submissions.update(sent_by=family, help="alone")
    lives_with = family.guardianships.get(child=village.aisha)
    Consent.answer(lives_with, Purpose.DISPLAY, given=True, wording=1)
    User.objects.filter(pk=family.pk).update(email_confirmed_at=timezone.now())
    client = signed_in("family")
    assert strip_on(client, start_page(village, "family")) == ""


def test_asked_for_again_they_begin_unticked(village, signed_in):
    submission = send_work(village, gone_out(drafted(village, "main_task")))
    Look.objects.create(submission=submission, looked_by=village.people["teacher"])
    client = signed_in("teacher")
    client.post(reverse("first-steps-away"))
    client.post(reverse("first-steps-again"))
    assert "is-done" not in strip_on(client, start_page(village, "teacher"))
