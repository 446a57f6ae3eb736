"""A piece that is another child's, or shows another's work too: who sees it then, and who not."""

import json

import pytest
from django.core.serializers.json import DjangoJSONEncoder
from django.test import Client
from django.urls import reverse

from assessment.models import Look, Tag
from evidence.data_export import copy
from evidence.models import Answer, OthersShown, Piece, Placement, ShownChild, Submission
from portal.data_protection.erasure.erase import erase_child
from portal.data_protection.hooks import Scope, Section
from portal.data_protection.models import LegalHold
from portal.people.models import Child, Event, Home, User
from tests.assessment.builders import goal, looked, send, set_day
from tests.evidence.builders import jpeg, make_ready_piece, stored_bytes
from tests.evidence.conftest import own_store
from tests.village import Village, make_child, make_tie

__all__ = ["own_store"]
pytestmark = pytest.mark.django_db
SAID = "Fair shares, Aisha!"


@pytest.fixture
def piece(village: Village) -> Piece:
    """Return a photo that staff posted for Aisha, as what came of her home, with answers."""
    goal()
    work = send(
        village.aisha,
        village.first_home,
        set_day(village.robins),
        answers="right",
        note="We baked.",
        sent_by=village.people["assistant"],
        by_staff=True,
    )
    return make_ready_piece(work, jpeg())


@pytest.fixture
def teacher(piece: Piece, signed_in) -> Client:
    return signed_in("teacher")


def put(client: Client, piece: Piece, child: Child, home: Home | None, **more: str) -> int:
    """Put *piece* to *child* at *home*; give the status of the answer."""
    to = {"to": f"{child.pk}-{home.pk if home else 0}", **more}
    return client.post(reverse("assessment:piece-place", args=[piece.token]), to).status_code


def sent_from_home(village: Village) -> None:
    """Have the first home have sent what was sent."""
    Submission.objects.update(by_staff=False, sent_by=village.people["family"])


def put_to_ben(client: Client, piece: Piece, village: Village, **more: str) -> Submission:
    """Put *piece* to Ben, and return the work it is in there."""
    assert put(client, piece, village.ben, village.bens_home, **more) == 302
    return Submission.objects.active().get(child=village.ben)


def undo(client: Client) -> int:
    """Undo the last placing."""
    last = Placement.objects.latest("pk")
    return client.post(reverse("assessment:placing-undo", args=[last.pk])).status_code


def opens(client: Client, piece: Piece) -> bool:
    """Whether *client* is given the picture."""
    return client.get(reverse("evidence:piece", args=[piece.token, "display"])).status_code == 200


def copy_of(child: Child, home: Home | None = None) -> str:
    """Return all that the copy of *child* says of work."""
    parts = copy(Scope(child, home)) if home else copy(Scope(child))
    rows = {part.name: part.rows for part in parts if isinstance(part, Section)}
    return json.dumps(rows["placed"], cls=DjangoJSONEncoder)


def test_a_piece_put_to_another_child_is_no_longer_seen_by_the_home_it_was_taken_from(
    village, piece, teacher, signed_in
):
    assert opens(signed_in("family"), piece)
    work = put_to_ben(teacher, piece, village)
    assert not opens(signed_in("family"), piece)
    assert not opens(signed_in("second home"), piece)
    assert opens(signed_in("other family"), piece)
    assert (list(work.pieces.all()), work.looked_at) == ([piece], None)


@pytest.mark.parametrize("also", [{}, {"also": "on"}])
def test_what_a_home_sent_goes_to_no_other_home(village, piece, teacher, signed_in, also):
    sent_from_home(village)
    assert put(teacher, piece, village.ben, village.bens_home, **also) == 422
    address = reverse("assessment:piece-place", args=[piece.token])
    page = teacher.get(address, {"to": f"{village.ben.pk}-0", **also}).content.decode()
    assert "No home will see it with the work of Ben T." in page
    assert put(teacher, piece, village.ben, None, **also) == 302
    work = Submission.objects.active().get(child=village.ben)
    assert not opens(signed_in("other family"), work.pieces.get())
    assert opens(signed_in("family"), piece) == bool(also)


def test_nothing_that_was_typed_goes_to_another_home_nor_who_sent_it(
    village, piece, teacher, signed_in
):
    User.objects.filter(pk=village.people["assistant"].pk).update(name="Marisol")
    first = piece.submission
    work = put_to_ben(teacher, piece, village)
    assert (work.note, work.help, work.answers.count()) == ("", "", 0)
    assert work.sent_by == village.people["teacher"]
    assert (first.answers.count(), first.pieces.count()) == (4, 0)
    page = signed_in("other family").get(reverse("evidence:submission", args=[work.token]))
    for word in ("We baked.", "Aisha", "Marisol"):
        assert word not in page.content.decode()


def test_before_it_goes_staff_read_who_will_see_it_and_who_will_not(village, piece, teacher):
    address = reverse("assessment:piece-place", args=[piece.token])
    to = f"{village.ben.pk}-{village.bens_home.pk}"
    page = teacher.get(address, {"to": to}).content.decode()
    assert "Other-Family, at home with Ben T, will see it." in page
    assert "The home of Aisha K will not see it any more." in page
    also = teacher.get(address, {"to": to, "also": "on"}).content.decode()
    assert "The home of Aisha K sees it as before" in also
    assert piece.submission.pieces.get() == piece


def test_a_look_given_already_is_taken_back_with_its_tags_and_comes_back_with_undo(
    village, piece, teacher, signed_in
):
    look = looked(piece.submission, village.people["teacher"], SAID, how="independently")
    read = reverse("evidence:submission", args=[piece.submission.token])
    assert SAID in signed_in("family").get(read).content.decode()
    work = put_to_ben(teacher, piece, village)
    assert not Tag.objects.exists()
    assert SAID not in signed_in("family").get(read).content.decode()
    assert not Look.objects.filter(submission=work).exists()

    assert undo(teacher) == 302
    look.refresh_from_db()
    assert look.stands
    assert Tag.objects.get().child == village.aisha
    assert opens(signed_in("family"), piece)
    assert not opens(signed_in("other family"), piece)
    assert not Submission.objects.active().filter(child=village.ben).exists()


def test_what_is_tagged_then_is_the_others_and_cannot_be_undone_under_it(village, piece, teacher):
    work = put_to_ben(teacher, piece, village)
    looked(work, village.people["teacher"], how="with support")
    assert Tag.objects.get().child == village.ben
    undo(teacher)
    piece.refresh_from_db()
    assert piece.submission == work


def test_work_of_which_nothing_is_left_waits_no_more_and_stands_again_after_undo(
    village, piece, teacher
):
    first = piece.submission
    Answer.objects.all().delete()
    Submission.objects.update(note="")
    put_to_ben(teacher, piece, village)
    assert not Submission.objects.active().filter(child=village.aisha).exists()
    undo(teacher)
    assert Submission.objects.active().get(child=village.aisha) == first


def test_erasing_one_child_leaves_what_is_the_others_now(
    village, piece, teacher, django_capture_on_commit_callbacks
):
    work = put_to_ben(teacher, piece, village)
    with django_capture_on_commit_callbacks(execute=True):
        erase_child(village.aisha)
    assert work.pieces.get() == piece
    assert stored_bytes(piece.files["display"].name) == jpeg()
    assert Placement.objects.get().source is None


@pytest.mark.parametrize("erased", ["aisha", "ben"])
def test_a_picture_of_both_has_files_for_each_and_outlives_the_other(
    village, piece, teacher, django_capture_on_commit_callbacks, erased
):
    twin = put_to_ben(teacher, piece, village, also="on").pieces.get()
    kept = piece if erased == "ben" else twin
    with django_capture_on_commit_callbacks(execute=True):
        erase_child(getattr(village, erased))
    assert Piece.objects.get() == kept
    assert stored_bytes(kept.files["display"].name) == jpeg()


def test_a_picture_of_both_is_marked_as_showing_the_other_until_that_is_undone(
    village, piece, teacher, signed_in
):
    twin = put_to_ben(teacher, piece, village, also="on").pieces.get()
    put_to_ben(teacher, piece, village, also="on")  # pressed twice
    shown = {(each.mark.piece, each.child) for each in ShownChild.objects.all()}
    assert shown == {(piece, village.ben), (twin, village.aisha)}
    assert (opens(signed_in("family"), piece), opens(signed_in("family"), twin)) == (True, False)
    assert opens(signed_in("other family"), twin)
    undo(teacher)
    assert not OthersShown.objects.filter(piece=piece).exists()
    assert not opens(signed_in("other family"), twin)
    assert opens(signed_in("family"), piece)


def test_one_look_saves_for_both_and_each_reads_its_own_name(village, piece, teacher):
    work = put_to_ben(teacher, piece, village, also="on")
    address = reverse("assessment:look", args=[piece.submission.token])
    assert "Say the same to both: Ben T too" in teacher.get(address).content.decode()
    said = {"reply": SAID, "version": 0, f"goal-{goal().pk}": "independently", "both": "on"}
    assert teacher.post(address, said).status_code == 302
    assert Look.objects.get(submission=piece.submission).reply == SAID
    assert Look.objects.get(submission=work).reply == "Fair shares, Ben!"
    assert {tag.child for tag in Tag.objects.all()} == {village.aisha, village.ben}


def test_without_the_tick_the_others_work_waits_for_a_look_of_its_own(village, piece, teacher):
    work = put_to_ben(teacher, piece, village, also="on")
    address = reverse("assessment:look", args=[piece.submission.token])
    teacher.post(address, {"reply": SAID, "version": 0})
    assert not Look.objects.filter(submission=work).exists()


def test_with_a_child_of_the_same_home_it_stays_in_that_home_and_is_offered_first(
    village, piece, teacher, signed_in
):
    zuri = make_child(village.robins, "Zuri", "K")
    make_tie(village.people["family"], zuri, village.first_home)
    zuri.homes.add(village.first_home)
    sent_from_home(village)
    address = reverse("assessment:look", args=[piece.submission.token])
    page = teacher.get(address).content.decode()
    assert page.index("Zuri K</option>") < page.index("Ben T</option>")
    assert put(teacher, piece, zuri, village.first_home) == 302
    assert opens(signed_in("family"), piece)
    assert Submission.objects.get(child=zuri).sent_by == village.people["family"]


@pytest.mark.parametrize(
    "role", ["family", "second home", "other family", "other teacher", "office", "foreign lead"]
)
def test_nobody_but_staff_of_the_class_puts_or_undoes(village, piece, teacher, signed_in, role):
    client = signed_in(role)
    assert put(client, piece, village.ben, village.bens_home) == 404
    put_to_ben(teacher, piece, village)
    assert undo(client) == 404
    assert Submission.objects.active().get(child=village.ben).pieces.get() == piece


def test_only_a_child_of_the_class_at_a_home_of_its_own_is_taken(village, piece, teacher):
    for child, home in (
        (village.cal, village.first_home),
        (village.dot, None),
        (village.aisha, village.second_home),
        (village.ben, village.first_home),
    ):
        assert put(teacher, piece, child, home) == 422
    assert piece.submission.pieces.get() == piece


def test_held_work_stays_where_it_is(village, piece, teacher):
    LegalHold.place(village.aisha, piece.submission.pk, village.people["lead"])
    put(teacher, piece, village.ben, village.bens_home)
    assert piece.submission.pieces.get() == piece


def test_what_the_other_home_adds_meanwhile_stays_with_it_when_it_is_undone(
    village, piece, teacher
):
    work = put_to_ben(teacher, piece, village)
    own = make_ready_piece(work, jpeg("red"), position=1)
    undo(teacher)
    assert list(work.pieces.all()) == [own]
    assert Submission.objects.active().filter(pk=work.pk).exists()


def test_who_put_it_from_whom_to_whom_and_when_is_kept_and_each_copy_says_its_own_part(
    village, piece, teacher
):
    work = put_to_ben(teacher, piece, village)
    row, event = Placement.objects.get(), Event.objects.get(what="piece placed")
    assert (row.source.child, row.target) == (village.aisha, work)
    assert (event.who, event.object_id) == (village.people["teacher"].pk, row.pk)
    assert "put to another child" in copy_of(village.aisha)
    assert "put to this child" in copy_of(village.ben)
    assert "Aisha" not in copy_of(village.ben)
    assert copy_of(village.aisha, village.second_home) == "[]"
    undo(teacher)
    assert Event.objects.filter(what="placing undone").exists()
