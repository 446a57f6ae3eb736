"""Two homes that were one household are made one; nothing of either is lost, and it is sure."""

import pytest
from django.apps import apps
from django.urls import reverse
from django.utils import timezone

from assessment.insight.weeks import Week
from assessment.models import WeekSummary
from assessment.weekly.summaries import make_summary
from evidence.models import Submission
from portal.people.accounts.reauthentication import FRESH
from portal.people.families.joining_homes import CannotJoinError, join_homes
from portal.people.families.models.consent import consented
from portal.people.models import Consent, Event, Guardianship, Home, Invitation, Purpose
from tests.assessment.builders import send, set_day
from tests.village import make_child

pytestmark = [pytest.mark.django_db, pytest.mark.servers]


def fresh(client):
    """Give *client* as somebody who has just proved who they are."""
    session = client.session
    session[FRESH] = int(timezone.now().timestamp())
    session.save()
    return client


def join(client, village, *homes: Home, sure: str = "on"):
    """Say on the page that *homes* of Aisha's are one."""
    typed = {"homes": [home.pk for home in homes], "sure": sure}
    return client.post(reverse("people:homes-join", args=[village.aisha.pk]), typed)


@pytest.fixture
def office(signed_in):
    """Give the office, freshly signed in."""
    return fresh(signed_in("office"))


@pytest.fixture
def full(village):
    """Give each home of Aisha's one of all that hangs on a home, and a week of both."""
    plan = set_day(village.robins)
    for home in (village.first_home, village.second_home):
        send(village.aisha, home, plan)
        Invitation.issue(village.aisha, home, village.people["office"])
        Consent.answer_on_paper(
            village.aisha, home, Purpose.DISPLAY, given=home == village.first_home, wording=1,
            by=village.people["office"],
        )  # fmt: skip
    make_summary(village.robins.pk, Week(2026, 48))
    return village


def test_each_adult_sees_then_what_either_home_has_sent(full, office, signed_in):
    mine = {role: Submission.objects.visible_to(full.people[role]).count()
            for role in ("family", "second home")}  # fmt: skip
    assert mine == {"family": 1, "second home": 1}
    answer = join(office, full, full.first_home, full.second_home)
    assert answer["Location"] == reverse("people:homes", args=[full.aisha.pk])
    for role in ("family", "second home"):
        assert Submission.objects.visible_to(full.people[role]).count() == 2
    assert list(Home.objects.of(full.aisha)) == [full.first_home]


def test_no_row_of_any_app_is_lost_but_what_both_have_of_the_same_week(full):
    counted = {model: model._base_manager.count() for model in apps.get_models()}
    weeks = WeekSummary.objects.filter(child=full.aisha)
    assert weeks.count() == 2
    join_homes(full.first_home, full.second_home)
    now = {model: model._base_manager.count() for model in counted}
    lost = {model.__name__: counted[model] - now[model] for model in now}
    assert lost.pop("SummaryMail") <= 1  # The mail about the one of two weeks that is dropped.
    assert {name: number for name, number in lost.items() if number} == {
        "Home": 1,
        "WeekSummary": 1,
    }
    assert weeks.get().home == full.first_home


def test_a_no_that_one_home_said_on_paper_still_stands(full):
    assert not consented(Purpose.DISPLAY).exists()
    join_homes(full.first_home, full.second_home)
    assert Consent.objects.active().filter(given=False).count() == 1
    assert not consented(Purpose.DISPLAY).exists()


def test_brothers_and_sisters_and_adults_of_before_come_along(village):
    brother = make_child(village.wrens, "Fin", "K")
    gone = Guardianship.objects.create(
        adult=village.people["second home"],
        child=brother,
        home=village.second_home,
        ended_at=timezone.now(),
    )
    village.first_home.wants_mail = False
    village.first_home.save()
    join_homes(village.second_home, village.first_home)
    gone.refresh_from_db()
    assert gone.home == village.second_home
    assert set(village.second_home.children.all()) == {village.aisha, village.cal, brother}
    assert not Home.objects.get(pk=village.second_home.pk).wants_mail


def test_it_is_written_down_who_did_it(village, office):
    join(office, village, village.first_home, village.second_home)
    event = Event.objects.get(what=Event.What.HOMES_JOINED)
    assert (event.who, event.object_id) == (village.people["office"].pk, village.aisha.pk)


@pytest.mark.parametrize(
    ("homes", "sure"),
    [
        (["first_home", "second_home"], ""),
        (["first_home"], "on"),
        ([], "on"),
        (["first_home", "bens_home"], "on"),
    ],
)
def test_nothing_is_joined_unless_two_of_the_child_s_are_chosen_and_it_is_sure(
    village, office, homes, sure
):
    answer = join(office, village, *(getattr(village, name) for name in homes), sure=sure)
    assert answer.status_code == 422
    assert Home.objects.of(village.aisha).count() == 2


def test_it_needs_a_fresh_sign_in(village, signed_in):
    answer = join(signed_in("office"), village, village.first_home, village.second_home)
    assert answer["Location"] == reverse("people:again")
    assert Home.objects.of(village.aisha).count() == 2


def test_homes_of_two_schools_and_a_home_with_itself_are_never_joined(village):
    elsewhere = village.people["foreign family"].guardianships.get().home
    for other in (elsewhere, village.first_home):
        with pytest.raises(CannotJoinError):
            join_homes(village.first_home, other)


def test_the_page_says_who_lives_where_before_anything_is_done(village, office):
    page = office.get(reverse("people:homes-join", args=[village.aisha.pk])).content.decode()
    assert "Family (Aisha K, Cal K)" in page
    assert "Second-Home (Aisha K)" in page
    assert "Other-Family" not in page
