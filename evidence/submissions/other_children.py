"""Pieces that show other children, and the one rule of how far such a piece may go.

The home it came from and the staff of the class see it. For anybody else, and for every use
besides teaching, each child that is shown must have been named, and their homes have agreed.
"""

from collections.abc import Iterable
from typing import Any, Self

from django.apps import apps
from django.db import models, transaction
from django.db.models import BooleanField, Exists, Expression, ExpressionWrapper, OuterRef, Q
from django.utils import timezone

from portal.people.asking import Asker
from portal.people.families.models.consent import consented
from portal.people.models import Child, Guardianship, Purpose, SchoolClass, User


class OthersShownQuerySet(models.QuerySet["OthersShown"]):
    """Marks that a piece shows another child."""

    def clear_for(self, purpose: Purpose) -> Self:
        """Marks whose children are all named, and all of whose homes agree to *purpose*."""
        shown = ShownChild.objects.filter(mark=OuterRef("pk"))
        agreed = consented(purpose).values("pk")
        # A child that was erased, or is not of this school, is a row without one: never clear.
        unclear = shown.filter(Q(child=None) | ~Q(child__in=agreed))
        return self.filter(Exists(shown), ~Exists(unclear))


class OthersShown(models.Model):
    """Somebody says that a piece shows a child besides the one it is about."""

    piece = models.OneToOneField(
        "evidence.Piece", on_delete=models.CASCADE, related_name="others_shown"
    )
    marked_by = models.ForeignKey(
        "people.User", on_delete=models.SET_NULL, null=True, related_name="+"
    )
    marked_at = models.DateTimeField(default=timezone.now)

    objects = OthersShownQuerySet.as_manager()

    def __str__(self) -> str:
        return f"others in piece {self.piece_id}"


class ShownChild(models.Model):
    """One child that a piece shows. Without a child: one whose homes cannot be asked."""

    mark = models.ForeignKey(OthersShown, on_delete=models.CASCADE, related_name="children")
    child = models.ForeignKey(Child, on_delete=models.SET_NULL, null=True, related_name="shown_in")

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["mark", "child"], name="a_child_is_shown_once"),
        ]

    def __str__(self) -> str:
        return f"child {self.child_id} in mark {self.mark_id}"


def clear_for(purpose: Purpose) -> Q:
    """Say of pieces in a query that no other child shown in them keeps them from *purpose*."""
    marks = OthersShown.objects.filter(piece=OuterRef("pk"))
    return ~Q(Exists(marks)) | Q(Exists(marks.clear_for(purpose)))


def usable_for(purpose: Purpose) -> Q:
    """Say of pieces in a query that they may be used for *purpose*: for every child they show."""
    return clear_for(purpose) & Q(submission__child__in=consented(purpose).values("pk"))


def opens_for(user: Asker) -> Q:
    """Say of pieces in a query that they may be opened by *user*, as far as others shown go."""
    if not user.is_active:
        return Q(pk__in=[])
    here = Guardianship.objects.current().filter(
        adult=user, child=OuterRef("submission__child"), home=OuterRef("submission__home")
    )
    own_class = SchoolClass.objects.staffed_by(user).values("pk")
    return (
        Q(Exists(here))
        | Q(submission__child__school_class__in=own_class)
        | clear_for(Purpose.OUTSIDE)
    )


def stays() -> Expression:
    """Say of each piece in a query whether it stays with its home and the staff of its class."""
    return ExpressionWrapper(~clear_for(Purpose.OUTSIDE), output_field=BooleanField())


def mark(pieces: Iterable[Any], by: User) -> None:
    """Mark *pieces* as showing another child; those marked before stay as they are."""
    OthersShown.objects.bulk_create(
        [OthersShown(piece_id=piece.pk, marked_by=by) for piece in pieces], ignore_conflicts=True
    )


def unmark(piece: Any) -> None:
    """Take the mark from *piece* again, with the names in it."""
    OthersShown.objects.filter(piece=piece).delete()


def mark_all_of(submission: Any, by: User) -> None:
    """Mark all pieces of *submission*, and the same ones that its home sent for a sibling."""
    own = list(submission.pieces.active().values_list("sha256", flat=True))
    pieces = apps.get_model("evidence", "Piece").objects.active()
    mark(pieces.filter(submission__home=submission.home_id, sha256__in=own), by)


@transaction.atomic
def name_children(piece: Any, children: Iterable[Child], *, strangers: bool, by: User) -> None:
    """Say which children *piece* shows besides its own; *strangers*: also one nobody can ask.

    With neither, the piece stays marked and goes nowhere.
    """
    mark([piece], by)
    found = OthersShown.objects.select_for_update().get(piece=piece)
    found.children.all().delete()
    shown: list[Child | None] = [*children, *([None] if strangers else [])]
    ShownChild.objects.bulk_create(ShownChild(mark=found, child=child) for child in shown)
