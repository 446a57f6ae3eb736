"""Putting a piece to another child, or to another child as well, and undoing that.

The piece alone goes. What was typed with it (answers, help, a word from home) was said of the
first child, by a home that nobody else reads: it stays there. What hangs on the work it goes to
begins anew, and a look at the work it leaves is taken back: it was made of more than is left.
"""

from django.db import transaction
from django.utils import timezone

from assessment.looks.another_child.places import Place
from assessment.looks.looking import take_back_look, undo_look
from assessment.models import Look
from evidence.jobs import queue_on_commit
from evidence.models import OthersShown, Piece, Placement, ShownChild, Submission
from evidence.submissions import other_children
from evidence.uploads.moving import new_files, twin_of
from evidence.uploads.withdrawal import close
from portal.data_protection.models import LegalHold
from portal.people.models import Child, User


class StaysError(Exception):
    """It cannot be put elsewhere now: it was taken back, is held, or was changed since."""


def put(piece: Piece, place: Place, user: User) -> Placement:
    """Have *piece* stand in work of its own of *place*, and no more where it is. Raises StaysError.

    What was shown to be in it besides its child stays said, but for whose it now is.
    """
    with transaction.atomic():
        source = _held(piece)
        took = _take_look_back(source)
        target = _begun(source, place, user)
        Piece.objects.filter(pk=piece.pk).update(submission=target, position=0, prompt=None)
        piece.uploads.clear()
        ShownChild.objects.filter(mark__piece=piece, child=place.child).delete()
        if source.is_empty:
            close(source)
        return Placement.objects.create(
            piece=piece, source=source, target=target, took_look_back=took, placed_by=user
        )


def put_also(piece: Piece, place: Place, user: User) -> Placement:
    """Have *piece* stand in work of *place* as well, with files of its own that outlive the other.

    Both are marked as showing the other child. Raises StaysError, and NotSavedError.
    """
    with new_files() as names, transaction.atomic():
        source = _held(piece)
        standing = Placement.objects.standing().filter(source=source, also=True)
        again = standing.filter(
            target__child=place.child, piece__sha256=piece.sha256, target__withdrawn_at=None
        ).first()
        if again is not None:  # pressed twice
            return again
        piece.refresh_from_db()
        target = _begun(source, place, user)
        twin = twin_of(piece, target, names)
        queue_on_commit([twin.pk])
        made = Placement.objects.create(
            piece=twin, source=source, target=target, also=True, placed_by=user
        )
        _show(piece, place.child, user)
        _show(twin, source.child, user)
        return made


@transaction.atomic
def undo(placement: Placement) -> None:
    """Take *placement* back, as long as nobody has looked at what it made. Raises StaysError."""
    target = _standing(placement.target_id)
    source = Submission.objects.select_for_update().filter(pk=placement.source_id).first()
    row = Piece.objects.filter(pk=placement.piece_id, submission=target, withdrawn_at=None)
    undoable = Placement.objects.standing().filter(pk=placement.pk)
    if source is None or target.looked_at or not row.exists() or not undoable.exists():
        raise StaysError
    undoable.update(undone_at=timezone.now())
    if placement.also:
        _show_no_more(placement, source, target.child)
        close(target)
        return
    if source.withdrawn_at:
        source.withdrawn_at = None
        source.save(update_fields=["withdrawn_at"])
    row.update(submission=source, position=source.pieces.count())
    if mark := OthersShown.objects.filter(piece=placement.piece_id).first():
        ShownChild.objects.get_or_create(mark=mark, child=target.child)
    if target.is_empty:
        close(target)
    look = Look.objects.filter(submission=source).first()
    if placement.took_look_back and look and not look.stands:
        undo_look(source, look.version)


def shared_with(work: Submission) -> list[Submission]:
    """List the work of other children that shows pieces of *work* too, and waits for a look."""
    waiting = Submission.objects.not_yet_looked_at().select_related("child")
    placed = Placement.objects.standing().filter(source=work, also=True)
    return list(waiting.filter(pk__in=placed.values("target")))


def _standing(pk: int | None) -> Submission:
    """Return work *pk*, locked. Raises StaysError where it was taken back or is held."""
    work = Submission.objects.select_for_update().active().filter(~LegalHold.objects.on_work())
    found = work.filter(pk=pk).first()
    if found is None:
        raise StaysError
    return found


def _held(piece: Piece) -> Submission:
    """Return the work of *piece*, both locked. Raises StaysError."""
    source = _standing(piece.submission_id)
    rows = Piece.objects.select_for_update().filter(withdrawn_at=None, submission=source)
    if not rows.filter(pk=piece.pk).exclude(state=Piece.State.REFUSED).exists():
        raise StaysError
    return source


def _begun(source: Submission, place: Place, user: User) -> Submission:
    """Begin work of *place* for the day of *source*. Another home learns nothing of who sent it."""
    return Submission.objects.create(
        child=place.child,
        home=place.home,
        day_plan=source.day_plan,
        sent_at=source.sent_at,
        sent_by=source.sent_by if place.is_own_home else user,
        by_staff=source.by_staff or not place.is_own_home,
    )


def _take_look_back(source: Submission) -> bool:
    """Take the look at *source* back, with its tags; tell whether one stood."""
    look = Look.objects.filter(submission=source).first()
    if look is None or not look.stands:
        return False
    take_back_look(source, look.version)
    source.refresh_from_db()
    return True


def _show(piece: Piece, child: Child, user: User) -> None:
    """Say that *piece* shows *child* too; whom it was said to show before stays said."""
    other_children.mark([piece], user)
    mark = OthersShown.objects.get(piece=piece)
    ShownChild.objects.get_or_create(mark=mark, child=child)


def _show_no_more(placement: Placement, source: Submission, child: Child) -> None:
    """Say no more that the pieces *placement* is a copy of show *child*."""
    same = source.pieces.filter(sha256=placement.piece.sha256)
    ShownChild.objects.filter(mark__piece__in=same, child=child).delete()
    marks = OthersShown.objects.filter(piece__in=same, children=None)
    marks.filter(marked_by=placement.placed_by_id, marked_at__gte=placement.placed_at).delete()
