"""What is done and seen is written down with ids alone, never changed, and shown to leads."""

import datetime as dt

import pytest
from django.db import DatabaseError, connection, transaction
from django.test import RequestFactory
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone
from freezegun import freeze_time

from portal.people.audit.log import record
from portal.people.audit.models import KEPT, CannotChangeError
from portal.people.jobs import forget
from portal.people.models import Event
from tests.village import PASSWORD

pytestmark = [pytest.mark.django_db, pytest.mark.servers]


def request_of(village, name: str):
    request = RequestFactory().get("/")
    request.user, request.id = village.people[name], "0123456789abcdef"
    return request


def see(village, name: str = "teacher", **more) -> None:
    """Write down that somebody has looked at Aisha."""
    record(request_of(village, name), Event.What.MEDIA_SEEN, village.aisha, **more)


def test_an_event_says_who_in_which_role_did_what_to_which_object_and_when(village):
    see(village)
    event = Event.objects.get()
    assert (event.who, event.role, event.school) == (
        village.people["teacher"].pk,
        "teacher",
        village.school,
    )
    assert (event.kind, event.object_id) == ("people.child", village.aisha.pk)
    assert event.request_id == "0123456789abcdef"


def test_an_event_holds_no_name_and_no_address(village):
    see(village)
    kept = str(Event.objects.values().get())
    for word in ("Aisha", "Teacher", "example.org", "Harbour"):
        assert word not in kept


def test_the_ranges_of_one_clip_are_one_view(village):
    for _range in range(5):
        see(village, once_within=dt.timedelta(minutes=10))
    see(village, "assistant", once_within=dt.timedelta(minutes=10))
    assert Event.objects.count() == 2


def test_a_view_half_an_hour_later_is_another(village):
    now = timezone.now()
    for minutes in (0, 30):
        with freeze_time(now + dt.timedelta(minutes=minutes)):
            see(village, once_within=dt.timedelta(minutes=10))
    assert Event.objects.count() == 2


def test_an_event_is_never_changed_or_deleted_by_the_code(village):
    see(village)
    event = Event.objects.get()
    for change in (
        event.save,
        event.delete,
        Event.objects.all().delete,
        lambda: Event.objects.update(who=1),
    ):
        with pytest.raises(CannotChangeError):
            change()


def test_an_event_is_never_changed_past_the_code_either(village):
    see(village)
    with pytest.raises(DatabaseError), transaction.atomic(), connection.cursor() as cursor:
        cursor.execute("UPDATE people_event SET who = 1")
    assert Event.objects.get().who == village.people["teacher"].pk


def test_events_are_kept_for_a_year_and_no_longer(village):
    now = timezone.now()
    with freeze_time(now - KEPT - dt.timedelta(hours=1)):
        see(village)
    with freeze_time(now - KEPT + dt.timedelta(hours=1)):
        see(village, "assistant")
    forget()
    assert [event.role for event in Event.objects.all()] == ["assistant"]


def test_what_an_account_did_stays_known_when_the_account_is_gone(village):
    see(village)
    pk = village.people["teacher"].pk
    village.people["teacher"].delete()
    assert Event.objects.get().who == pk


def test_coming_in_and_being_refused_are_written_down(village, client):
    typed = {"email": "teacher@example.org", "password": PASSWORD}
    client.post(reverse("people:staff-sign-in"), typed)
    client.get(reverse("people:roster", args=[village.robins.pk]))
    client.post(reverse("people:sign-out"))
    events = [(event.what, event.role) for event in Event.objects.order_by("pk")]
    assert events == [("signed in", "teacher"), ("refused", "teacher"), ("signed out", "teacher")]
    refused = Event.objects.get(what="refused")
    assert (refused.kind, refused.object_id) == ("people:roster", village.robins.pk)


def test_the_log_shows_a_lead_names_that_the_events_do_not_hold(village, signed_in):
    see(village)
    page = signed_in("lead").get(reverse("people:log")).content.decode()
    assert "Teacher" in page
    assert "Aisha K" in page
    assert "looked at what a child sent" in page


def test_the_log_of_one_school_shows_nothing_of_another(village, signed_in):
    see(village)
    page = signed_in("foreign lead").get(reverse("people:log"))
    assert "looked at what a child sent" not in str(page.context["lines"])
    assert not any(line.event.school != village.dot.school for line in page.context["lines"])


@pytest.mark.parametrize(
    ("asked", "found"),
    [
        ({"what": "media seen"}, 2),
        ({"what": "exported"}, 0),
        ({"kind": "people.child", "number": "{child}"}, 2),
        ({"who": "{teacher}", "what": "media seen"}, 1),
        ({"what": "media seen", "last": "2020-01-01"}, 0),
        ({"what": "media seen", "first": "2020-01-01"}, 2),
        ({"who": "nonsense", "what": "media seen"}, 2),
    ],
)
def test_a_lead_finds_who_saw_what_between_two_days(village, signed_in, asked, found):
    see(village)
    see(village, "assistant")
    words = {"child": village.aisha.pk, "teacher": village.people["teacher"].pk}
    asked = {key: value.format(**words) for key, value in asked.items()}
    lines = signed_in("lead").get(reverse("people:log"), asked).context["lines"]
    if asked.get("who") == "nonsense":
        assert len(lines) >= found
    else:
        assert len(lines) == found


def test_a_page_of_the_log_takes_as_many_queries_for_many_events_as_for_few(village, signed_in):
    lead = signed_in("lead")

    def queries() -> int:
        lead.get(reverse("people:log"))
        with CaptureQueriesContext(connection) as seen:
            lead.get(reverse("people:log"))
        return len(seen)

    see(village)
    few = queries()
    for _view in range(120):
        see(village)
    assert queries() == few
    assert len(lead.get(reverse("people:log"), {"page": 2}).context["lines"]) > 0
