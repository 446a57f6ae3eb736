"""Days without school are entered, listed, removed and put back, and everything goes round them."""

import datetime as dt

import pytest
from django.urls import reverse

from portal.people.models import Closure

pytestmark = [pytest.mark.django_db, pytest.mark.servers]
PAGE = "people:closures"


def add(client, **typed):
    """Add Christmas, or what is *typed*; give the page after it."""
    christmas = {"name": "Christmas", "first": "2026-12-21", "last": "2027-01-01"}
    return client.post(reverse(PAGE), {**christmas, **typed}, follow=True)


@pytest.mark.parametrize("role", ["lead", "office"])
def test_a_span_is_added_with_its_name_and_listed(village, signed_in, role):
    page = add(signed_in(role)).content.decode()
    assert Closure.objects.get().school == village.school
    assert "<strong>Christmas</strong>, Monday 21 December to Friday 1 January 2027" in page


def test_a_single_day_needs_no_last_day(village, signed_in):
    add(signed_in("lead"), name="Training day", first="2026-11-27", last="")
    assert Closure.objects.get().last == dt.date(2026, 11, 27)


def test_until_there_is_one_the_page_says_that_none_is_assumed(village, signed_in):
    page = signed_in("lead").get(reverse(PAGE)).content.decode()
    assert "None is assumed, Christmas neither" in page


@pytest.mark.parametrize(
    "wrong",
    [
        {"name": ""},
        {"first": ""},
        {"last": "2026-12-20"},
        {"last": "2027-12-31"},
        {"first": "2025-12-21", "last": "2026-01-01"},
    ],
)
def test_days_that_cannot_be_are_refused(village, signed_in, wrong):
    assert add(signed_in("lead"), **wrong).context["form"].errors
    assert not Closure.objects.exists()


def test_days_that_are_closed_already_are_not_closed_twice(village, signed_in):
    lead = signed_in("lead")
    add(lead)
    again = add(lead, name="Holiday", first="2027-01-01", last="2027-01-04").content.decode()
    assert "without school already: Christmas" in again
    assert Closure.objects.count() == 1


def test_what_was_removed_can_be_put_back(village, signed_in):
    lead = signed_in("lead")
    add(lead)
    removed = lead.post(reverse("people:closure-remove", args=[Closure.objects.get().pk]))
    assert not Closure.objects.exists()
    assert reverse("people:closure-put-back") in lead.get(removed["Location"]).content.decode()
    lead.post(reverse("people:closure-put-back"))
    back = Closure.objects.get()
    assert (back.name, back.first, back.last) == (
        "Christmas",
        dt.date(2026, 12, 21),
        dt.date(2027, 1, 1),
    )


def test_the_first_steps_of_a_lead_name_it_and_tick_it_off(village, signed_in):
    lead = signed_in("lead")
    start = reverse("people:classes")
    words = "Enter holidays and training days: none is assumed, Christmas neither"
    assert f"{words}</a>" in lead.get(start).content.decode()
    add(lead)
    assert f"Done: </span>{words}" in lead.get(start).content.decode()


def test_the_day_after_the_last_day_of_term_is_the_first_of_the_next(village, signed_in):
    add(signed_in("lead"))
    friday = dt.date(2026, 12, 18)
    address = reverse("tasks:plan-day", args=[village.robins.pk, friday])
    after = signed_in("teacher").get(address).context["day_after"]
    assert after == dt.date(2027, 1, 4)
