"""Homes of a child: invited to, shown to the office alone, and ended at once and in silence."""

import datetime as dt
import re

import pytest
from django.core import mail
from django.core.mail.backends.locmem import EmailBackend
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils.formats import date_format

from evidence.models import Piece
from portal.data_protection.retention.forms import RulesForm
from portal.people.jobs import mail_invitation, send_waiting_invitations
from portal.people.models import Guardianship, Home, Invitation
from tests.evidence.builders import make_ready_piece
from tests.tasks.builders import drafted, gone_out, send_work
from tests.village import make_adult, make_child

pytestmark = [pytest.mark.django_db, pytest.mark.servers]


def tie(village, name: str) -> Guardianship:
    return Guardianship.objects.get(adult=village.people[name], child=village.aisha)


def end(signed_in, tie: Guardianship, everything: str = ""):
    address = reverse("people:guardianship-end", args=[tie.pk])
    return signed_in("office").post(f"{address}?all={everything}")


@pytest.fixture
def piece(village) -> Piece:
    """Return a picture that Aisha's first home has sent."""
    plan = gone_out(drafted(village, "main_task", "quick_recall"))
    return make_ready_piece(send_work(village, plan))


def test_ending_takes_effect_with_the_next_range_of_what_is_playing(village, signed_in, piece):
    family = signed_in("family")
    address = reverse("evidence:piece", args=[piece.token, "display"])
    first = family.get(address, headers={"Range": "bytes=0-1"})
    end(signed_in, tie(village, "family"))
    second = family.get(address, headers={"Range": "bytes=2-9"})
    assert first.status_code == 206
    assert second.status_code == 404


def test_ending_says_nothing_to_anybody_at_home(village, signed_in):
    family = signed_in("family")
    end(signed_in, tie(village, "family"))
    assert not mail.outbox
    page = family.get(reverse("tasks:today"))
    assert page.status_code == 200
    assert "Aisha" not in page.content.decode()
    assert "Cal" in page.content.decode()


def test_ending_for_all_children_leaves_none(village, signed_in):
    end(signed_in, tie(village, "family"), "yes")
    assert not village.people["family"].guardianships.current().exists()
    assert village.people["second home"].guardianships.current().exists()


def test_what_the_adult_could_come_back_by_is_ended_too(village, signed_in):
    office = village.people["office"]
    by_mail = Invitation.ask_by_mail(
        village.aisha, village.first_home, "family@example.org", office
    )
    Invitation.issue(village.aisha, village.second_home, office)
    other = Invitation.ask_by_mail(village.aisha, village.second_home, "aunt@example.org", office)
    end(signed_in, tie(village, "family"))
    assert by_mail not in Invitation.objects.open()
    assert list(Invitation.objects.open()) == [other]


def test_no_page_of_one_home_shows_anything_of_the_other(village, signed_in, piece):
    pages = ["tasks:today", "evidence:sent", "people:account", "assessment:this-week"]
    for viewer, hidden in (("second home", "family"), ("family", "second home")):
        for name in pages:
            page = signed_in(viewer).get(reverse(name), follow=True).content.decode()
            assert village.people[hidden].email not in page
            others = page.replace(village.people[viewer].name, "")
            assert village.people[hidden].name not in others


def test_the_office_sees_both_homes_and_a_teacher_neither(village, signed_in):
    address = reverse("people:homes", args=[village.aisha.pk])
    page = signed_in("office").get(address).content.decode()
    assert "family@example.org" in page
    assert "second-home@example.org" in page
    assert signed_in("teacher").get(address).status_code == 404


def test_an_invitation_by_mail_lets_its_adult_in_with_the_address_confirmed(village, signed_in):
    typed = {"email": "Aunt@Example.org", "home": village.second_home.pk, "language": "en-gb"}
    signed_in("office").post(reverse("people:invite-by-mail", args=[village.aisha.pk]), typed)
    send_waiting_invitations()
    letters = re.search(r"/come-in/#(\S+)", mail.outbox[-1].body)[1]
    visitor = Client()
    slip = {"slip": letters, "name": "Aunt", "email": "aunt@example.org"}
    visitor.post(reverse("people:come-in"), slip)
    arrived = Guardianship.objects.get(adult__email="aunt@example.org")
    assert (arrived.child, arrived.home) == (village.aisha, village.second_home)
    assert arrived.adult.email_confirmed_at


def test_a_mailed_invitation_taken_with_another_address_leaves_that_unconfirmed(village, signed_in):
    typed = {"email": "aunt@example.org", "home": "new", "language": "en-gb"}
    signed_in("office").post(reverse("people:invite-by-mail", args=[village.aisha.pk]), typed)
    send_waiting_invitations()
    letters = re.search(r"/come-in/#(\S+)", mail.outbox[-1].body)[1]
    slip = {"slip": letters, "name": "Aunt", "email": "other@example.org"}
    Client().post(reverse("people:come-in"), slip)
    arrived = Guardianship.objects.get(adult__email="other@example.org")
    assert arrived.adult.email_confirmed_at is None


def test_the_mail_of_an_invitation_goes_out_once_however_often_its_job_is_sent(village):
    office = village.people["office"]
    invitation = Invitation.ask_by_mail(village.ben, village.bens_home, "aunt@example.org", office)
    mail_invitation(invitation.pk)
    mail_invitation(invitation.pk)
    send_waiting_invitations()
    assert len(mail.outbox) == 1


def test_an_invitation_waits_while_the_mail_server_is_down(village, monkeypatch):
    office = village.people["office"]
    Invitation.ask_by_mail(village.ben, village.bens_home, "aunt@example.org", office)

    def down(*_args):
        raise ConnectionRefusedError

    with monkeypatch.context() as broken:
        broken.setattr(EmailBackend, "open", down)
        send_waiting_invitations()
    send_waiting_invitations()
    assert len(mail.outbox) == 1


def test_mailing_again_makes_the_first_mail_useless(village, signed_in):
    office = village.people["office"]
    invitation = Invitation.ask_by_mail(village.ben, village.bens_home, "aunt@example.org", office)
    send_waiting_invitations()
    signed_in("office").post(reverse("people:invitation-again", args=[invitation.pk]))
    send_waiting_invitations()
    letters = [re.search(r"/come-in/#(\S+)", sent.body)[1] for sent in mail.outbox]
    assert Invitation.find(letters[0]) is None
    assert Invitation.find(letters[1]) == invitation


def test_slips_of_a_class_are_for_those_with_whom_nobody_came_in(village, signed_in):
    make_child(village.robins, "Eve", "W")
    form = {"whom": "waiting", "each": "2", "layout": "one", "language": "en-gb"}
    page = signed_in("office").post(reverse("people:slips", args=[village.robins.pk]), form)
    slips = page.context["slips"]
    assert [str(slip.child) for slip in slips] == ["Eve W", "Eve W"]
    assert len({slip.letters for slip in slips}) == 2
    assert Home.objects.filter(children__first_name="Eve").count() == 1
    assert page.content.decode().count('class="slip-code"') == 2


def test_slips_of_a_class_leave_out_a_child_with_two_homes(village, signed_in):
    form = {"whom": "everybody", "each": "1", "layout": "several", "language": "en-gb"}
    page = signed_in("office").post(reverse("people:slips", args=[village.robins.pk]), form)
    assert [str(slip.child) for slip in page.context["slips"]] == ["Ben T"]
    assert [str(child) for child in page.context["left_out"]] == ["Aisha K"]


def test_slips_are_printed_in_the_language_of_the_home(village, signed_in):
    form = {"whom": "everybody", "each": "1", "layout": "several", "language": "ar"}
    page = signed_in("office").post(reverse("people:slips", args=[village.robins.pk]), form)
    slip = page.content.decode().split('<section class="slip"')[1]
    assert slip.startswith(' lang="ar" dir="rtl">')
    assert "هذه الورقة لشخص بالغ واحد" in slip
    assert 'lang="en' in page.content.decode().split("<head>")[0]

    one = signed_in("office").post(
        reverse("people:invite", args=[village.aisha.pk]),
        {"home": village.second_home.pk, "language": "pl"},
    )
    assert "Ta kartka jest dla jednej osoby" in one.content.decode()


def test_an_invitation_is_mailed_and_mailed_again_in_the_language_chosen(village, signed_in):
    office = signed_in("office")
    typed = {"email": "aunt@example.org", "home": "new", "language": "uk"}
    office.post(reverse("people:invite-by-mail", args=[village.aisha.pk]), typed)
    send_waiting_invitations()
    office.post(reverse("people:invitation-again", args=[Invitation.objects.get().pk]))
    send_waiting_invitations()
    assert all(each.subject.startswith("Запрошення: ") for each in mail.outbox)
    assert all("Відкрийте це посилання" in each.body for each in mail.outbox)


def test_a_slip_for_a_known_home_leads_into_that_home(village, signed_in):
    address = reverse("people:invite", args=[village.aisha.pk])
    page = signed_in("office").post(address, {"home": village.second_home.pk})
    letters = page.context["slips"][0].letters
    assert Invitation.find(letters).home == village.second_home


def test_two_slips_printed_before_anybody_came_in_lead_into_one_home(village, signed_in):
    eve = make_child(village.robins, "Eve", "W")
    for _slip in range(2):
        signed_in("office").post(reverse("people:invite", args=[eve.pk]))
    assert len(set(Invitation.objects.filter(child=eve).values_list("home", flat=True))) == 1


def test_a_home_of_another_child_cannot_be_invited_to(village, signed_in):
    address = reverse("people:invite", args=[village.ben.pk])
    page = signed_in("office").post(address, {"home": village.second_home.pk})
    invitation = Invitation.find(page.context["slips"][0].letters)
    assert invitation.home == village.bens_home


def test_open_invitations_are_listed_and_ended_one_by_one(village, signed_in):
    office = signed_in("office")
    first = Invitation.ask_by_mail(
        village.ben, village.bens_home, "aunt@example.org", village.people["office"]
    )
    Invitation.issue(village.aisha, village.first_home, village.people["office"])
    page = office.get(reverse("people:invitations")).content.decode()
    assert "aunt@example.org" in page
    assert "on paper" in page
    office.post(reverse("people:invitation-end", args=[first.pk]))
    assert Invitation.objects.open().count() == 1
    assert "aunt@" not in office.get(reverse("people:invitations")).content.decode()


def test_a_child_leaves_a_home_only_when_no_adult_there_has_access(village, signed_in):
    address = reverse("people:home-leave", args=[village.aisha.pk, village.second_home.pk])
    signed_in("office").post(address)
    assert village.aisha.homes.filter(pk=village.second_home.pk).exists()
    end(signed_in, tie(village, "second home"))
    signed_in("office").post(address)
    assert not village.aisha.homes.filter(pk=village.second_home.pk).exists()


def test_a_child_is_added_by_hand_with_a_name_and_a_letter(village, signed_in):
    typed = {"first_name": "Eve", "initial": "w", "school_class": village.robins.pk}
    signed_in("office").post(reverse("people:child-add", args=[village.robins.pk]), typed)
    assert {str(child) for child in village.robins.children.all()} == {"Aisha K", "Ben T", "Eve W"}


def test_a_child_who_leaves_by_hand_is_in_no_class_and_no_group(village, signed_in):
    typed = {"first_name": "Ben", "initial": "T", "school_class": ""}
    signed_in("office").post(reverse("people:child-change", args=[village.ben.pk]), typed)
    village.ben.refresh_from_db()
    assert village.ben.school_class is None
    assert not village.bens_group.children.exists()


def test_a_child_is_not_moved_into_a_class_of_another_school(village, signed_in):
    typed = {"first_name": "Ben", "initial": "T", "school_class": village.dot.school_class_id}
    page = signed_in("office").post(reverse("people:child-change", args=[village.ben.pk]), typed)
    assert page.context["form"].errors


def test_nobody_is_invited_to_a_child_who_has_left(village, signed_in):
    village.ben.school_class = None
    village.ben.save()
    address = reverse("people:invite", args=[village.ben.pk])
    assert signed_in("office").post(address).status_code == 404


@pytest.mark.parametrize("name", ["people:roster", "people:invitations", "people:homes"])
def test_pages_of_the_roster_take_as_many_queries_for_many_as_for_few(village, signed_in, name):
    office = signed_in("office")
    pk = {"people:roster": [village.robins.pk], "people:homes": [village.aisha.pk]}.get(name, [])

    def queries() -> int:
        office.get(reverse(name, args=pk))
        with CaptureQueriesContext(connection) as seen:
            office.get(reverse(name, args=pk))
        return len(seen)

    Invitation.issue(village.aisha, village.first_home, village.people["office"])
    few = queries()
    for number in range(12):
        child = make_child(village.robins, f"Child{number}", "X")
        make_adult(f"adult{number}", village.first_home, [child, village.aisha])
        Invitation.ask_by_mail(
            child, village.first_home, f"new{number}@example.org", village.people["office"]
        )
    assert queries() == few


def test_an_invitation_works_as_long_as_the_school_says_and_the_mail_names_the_day(
    village, signed_in
):
    lead = signed_in("lead")
    assert "days_invitations_open" in RulesForm(instance=village.school).fields
    village.school.keeping_rules.create(kind="invitations open", days=21)
    made = Invitation.ask_by_mail(
        village.aisha, village.first_home, "aunt@example.org", village.people["lead"]
    )
    assert made.expires_at - made.made_at > dt.timedelta(days=20, hours=23)
    assert "within 21 days" in lead.get(f"/classes/{village.robins.pk}/slips/").content.decode()
    send_waiting_invitations()
    told = mail.outbox[-1]
    assert date_format(made.expires_at, "j E Y") in told.body
    assert village.school.name in told.subject and "Teacher" in told.subject
    assert village.aisha.first_name not in told.subject + told.body
