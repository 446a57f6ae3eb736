"""What a roster file does for adults at home, and how a file is undone."""

import pytest

from portal.people.accounts.sign_in import use_slip
from portal.people.families.guardianships import end_guardianship
from portal.people.jobs import send_waiting_invitations
from portal.people.models import Child, Guardianship, Home, Invitation, SchoolClass, User
from portal.people.roster_import.running import plan_of
from portal.people.roster_import.undoing import CannotUndoError, undo_run
from portal.people.roster_import.words import fates
from tests.portal.people.roster_import.roster_files import HARBOUR, harbour, row

pytestmark = [pytest.mark.django_db, pytest.mark.servers]


def come_in(email: str, name: str = "Sam") -> User:
    """Have an adult come in by the mailed invitation of *email*."""
    invitation = Invitation.objects.open().filter(email=email).order_by("pk").first()
    return use_slip(invitation, None, name=name, email=email)


def test_one_mail_lets_an_adult_in_to_all_their_children(run, mailoutbox):
    run(harbour())
    send_waiting_invitations()
    assert [mail.to for mail in mailoutbox].count(["mum.kestrel@example.org"]) == 1
    adult = come_in("mum.kestrel@example.org")
    assert {str(each.child) for each in adult.guardianships.all()} == {"Aisha K", "Cal K"}


def test_no_mail_of_a_roster_names_a_child_and_each_says_who_invites_in_its_subject(
    run, mailoutbox
):
    run(harbour())
    send_waiting_invitations()
    assert len(mailoutbox) == 4
    for mail in mailoutbox:
        for name in ("Aisha", "Ben", "Cal", "Kestrel"):
            assert name not in mail.subject + mail.body
        assert mail.subject == "An invitation: Gull Point"


def test_an_adult_of_a_sister_sees_a_new_brother_at_once(run, bring_in):
    run(harbour(HARBOUR[:1]))
    adult = come_in("mum.kestrel@example.org")
    draft = bring_in(harbour([HARBOUR[0], HARBOUR[2]]))
    assert any("sees this child too" in words for words in fates(plan_of(draft))[1].adults)
    run(harbour([HARBOUR[0], HARBOUR[2]]))
    assert adult.guardianships.filter(child__first_name="Cal").exists()


def test_an_adult_whose_access_was_ended_is_not_invited_by_the_next_file(run):
    run(harbour())
    come_in("tern@example.org")
    end_guardianship(Guardianship.objects.get(adult__email="tern@example.org"))
    again = run(harbour(), whole_school=True)
    assert again.figures == {"same": 4}
    assert not Invitation.objects.open().filter(email="tern@example.org").exists()


def test_an_invitation_that_was_ended_is_not_made_again_by_the_next_file(run):
    run(harbour())
    Invitation.objects.filter(email="tern@example.org").revoke()
    run(harbour())
    assert not Invitation.objects.open().filter(email="tern@example.org").exists()


def test_an_adult_who_moves_out_sees_from_then_on_a_home_of_their_own(run):
    run(harbour())
    mum, other = come_in("tern@example.org"), come_in("tern.too@example.org")
    run(harbour([*HARBOUR[:1], row(1, Parent_2_address="6 Elm Row"), *HARBOUR[2:]]))
    homes = {each.adult_id: each.home_id for each in Guardianship.objects.all()}
    assert homes[mum.pk] != homes[other.pk]


def test_without_the_tick_nobody_is_invited_and_the_next_file_can(run):
    run(harbour(), by_mail=False)
    assert not Invitation.objects.exists()
    run(harbour())
    assert Invitation.objects.count() == 5


def test_undoing_takes_back_all_of_the_last_file(run):
    def everything():
        return (
            list(Child.objects.values()),
            list(Home.objects.values()),
            list(SchoolClass.objects.values()),
            list(Invitation.objects.values("child", "home", "email_key")),
            sorted(Home.children.through.objects.values_list("home", "child")),
        )

    run(harbour())
    before = everything()
    rows = [row(0, Reg_group="Larks"), row(2, Forename="Callum"), row(1, Parent_2_address="6 Elm")]
    second = run(harbour([*rows, row(3, Admission_number="1009", Forename="Eve")]))
    assert everything() != before
    undo_run(second)
    assert everything() == before


def test_undoing_a_leaver_brings_back_the_groups(run, school):
    run(harbour())
    dora = Child.objects.get(first_name="Dora")
    group = dora.school_class.groups.create(name="Shells")
    group.children.add(dora)
    second = run(harbour(HARBOUR[:3]), whole_school=True)
    assert not group.children.exists()
    undo_run(second)
    assert list(group.children.all()) == [dora]


def test_only_the_last_file_can_be_undone(run):
    first = run(harbour(HARBOUR[:2]))
    run(harbour())
    with pytest.raises(CannotUndoError):
        undo_run(first)


def test_nothing_is_undone_once_an_adult_has_come_in(run):
    done = run(harbour())
    come_in("tern@example.org")
    with pytest.raises(CannotUndoError, match="Ben T"):
        undo_run(done)
    assert Child.objects.count() == 4
