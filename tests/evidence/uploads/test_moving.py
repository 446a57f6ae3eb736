"""A photo sent for the wrong child, or of the work of two: put right without sending again."""

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from evidence.models import Piece, Submission
from evidence.submissions import other_children
from evidence.uploads import limits
from portal.data_protection.models import LegalHold
from portal.people.models import Child, Guardianship, Home
from tests.evidence.builders import (
    files_in_store,
    jpeg,
    make_arrived_piece,
    make_plan,
    make_ready_piece,
    make_submission,
    stored_bytes,
)
from tests.evidence.storage.buckets import BOTH_STORES
from tests.village import Village, make_child

pytestmark = [pytest.mark.django_db, BOTH_STORES]


@pytest.fixture
def piece(village: Village) -> Piece:
    """Make a photo that the first home sent for Aisha, on a day that Cal has work for as well."""
    make_plan(village.wrens)
    return make_ready_piece(make_submission(village, note="With spoons."), jpeg())


@pytest.fixture
def family(piece: Piece, signed_in) -> Client:
    return signed_in("family")


def ask(client: Client, piece: Piece, **to: Child) -> int:
    """Ask to have *piece* moved `to` a child, or for it `also`; give the status of the answer."""
    address = reverse("evidence:piece-move", args=[piece.token])
    return client.post(address, {how: child.pk for how, child in to.items()}).status_code


def of(child: Child) -> Submission:
    return Submission.objects.active().get(child=child)


def test_a_photo_is_moved_to_the_brother_with_its_files_and_leaves_the_words(
    village, piece, family
):
    files = files_in_store()
    assert ask(family, piece, to=village.cal) == 302

    assert list(of(village.cal).pieces.all()) == [piece]
    assert of(village.cal).home == village.first_home
    assert (of(village.aisha).note, of(village.aisha).pieces.count()) == ("With spoons.", 0)
    assert files_in_store() == files
    large = reverse("evidence:piece", args=[piece.token, "display"])
    assert family.get(large).status_code == 200


def test_then_the_brothers_teacher_sees_it_and_the_other_no_more(village, piece, family, signed_in):
    ask(family, piece, to=village.cal)
    large = reverse("evidence:piece", args=[piece.token, "display"])
    assert signed_in("other teacher").get(large).status_code == 200
    assert signed_in("teacher").get(large).status_code == 404
    assert signed_in("second home").get(large).status_code == 404


def test_work_of_which_nothing_is_left_is_taken_back(village, piece, family):
    Submission.objects.update(note="")
    ask(family, piece, to=village.cal)
    assert not Submission.objects.active().filter(child=village.aisha).exists()
    assert of(village.cal).pieces.get() == piece


def test_for_both_each_has_a_photo_with_files_of_its_own(
    village, piece, family, django_capture_on_commit_callbacks
):
    other_children.mark([piece], village.people["family"])
    with django_capture_on_commit_callbacks(execute=True):
        assert ask(family, piece, also=village.cal) == 302
        assert ask(family, piece, also=village.cal) == 302  # pressed twice

    twin = of(village.cal).pieces.get()
    assert of(village.aisha).pieces.get() == piece
    assert twin.state == Piece.State.READY
    assert hasattr(twin, "others_shown")
    for role, rendition in twin.files.items():
        assert rendition.name != piece.files[role].name
        assert stored_bytes(rendition.name) == jpeg()
    family.post(reverse("evidence:piece-remove", args=[piece.token]))
    assert stored_bytes(twin.files["display"].name) == jpeg()


def test_what_is_still_being_made_ready_is_moved_and_shared_as_well(village, piece, family):
    waiting = make_arrived_piece(piece.submission, jpeg("red"))
    ask(family, waiting, also=village.cal)
    twin = of(village.cal).pieces.get()
    assert twin.state == Piece.State.ARRIVED
    assert twin.original not in ("", waiting.original)
    ask(family, waiting, to=village.cal)  # it is there: one photo, not two
    assert of(village.cal).pieces.active().count() == 1
    assert list(of(village.aisha).pieces.active()) == [piece]


def test_nothing_moves_once_either_teacher_has_looked_or_the_work_is_held(village, piece, family):
    work = piece.submission
    Submission.objects.update(looked_at=timezone.now())
    assert ask(family, piece, to=village.cal) == ask(family, piece, also=village.cal) == 409
    Submission.objects.update(looked_at=None)
    LegalHold.place(village.aisha, work.pk, village.people["lead"])
    assert ask(family, piece, to=village.cal) == 409
    assert work.pieces.get() == piece


def test_what_a_teacher_has_looked_at_is_not_added_to(village, piece, family):
    looked = make_submission(village, village.cal, note="Done.", looked_at=timezone.now())
    ask(family, piece, to=village.cal)
    assert not looked.pieces.exists()
    assert Submission.objects.get(child=village.cal, looked_at=None).pieces.get() == piece


def test_only_a_child_of_the_same_home_is_offered_or_taken(village, piece, family):
    zuri = make_child(village.wrens, "Zuri", "K")
    elsewhere = Home.objects.create(school=village.school)
    Guardianship.objects.create(
        adult=village.people["family"], child=zuri, home=elsewhere
    )  # the same adult, another home
    page = family.get(reverse("evidence:submission", args=[piece.submission.token]))

    assert "Move it to Cal" in page.content.decode()
    assert "Zuri" not in page.content.decode()
    for child in (zuri, village.ben, village.dot, village.aisha):
        assert ask(family, piece, to=child) == ask(family, piece, also=child) == 404
    assert piece.submission.pieces.get() == piece


@pytest.mark.parametrize("role", ["second home", "other family", "teacher", "lead", "office"])
def test_nobody_else_moves_it(village, piece, signed_in, role):
    assert ask(signed_in(role), piece, to=village.cal) == 404
    assert piece.submission.pieces.get() == piece


def test_there_is_no_more_room_than_for_what_is_sent(village, piece, family):
    full = make_submission(village, village.cal)
    for number in range(limits.MAX_PIECES):
        Piece.objects.create(submission=full, kind="photo", sha256=str(number), size=1)
    assert ask(family, piece, to=village.cal) == 302
    assert piece.submission.pieces.get() == piece
    page = family.get(reverse("evidence:submission", args=[piece.submission.token]))
    assert "is the most in one go" in page.content.decode()


def test_the_list_of_what_was_sent_leads_there_for_a_home_of_several(village, piece, family):
    assert "Wrong child, or both?" in family.get(reverse("evidence:sent")).content.decode()
    Guardianship.objects.filter(adult=village.people["family"], child=village.cal).delete()
    assert "Wrong child" not in family.get(reverse("evidence:sent")).content.decode()
