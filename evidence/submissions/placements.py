"""That staff put a piece to another child than it was sent for, or to another child as well."""

from typing import Self

from django.db import models
from django.utils import timezone

from portal.people.asking import Asker
from portal.people.models import Child


class PlacementQuerySet(models.QuerySet["Placement"]):
    """Placements, by who may undo them."""

    def visible_to(self, user: Asker) -> Self:
        """Those between two children whom *user* teaches."""
        taught = Child.objects.taught_by(user).values("pk")
        return self.filter(source__child__in=taught, target__child__in=taught)

    def standing(self) -> Self:
        """Those that nobody undid."""
        return self.filter(undone_at=None)


class Placement(models.Model):
    """One piece that staff put from one work to that of another child; `also`: a copy of it."""

    piece = models.ForeignKey("evidence.Piece", on_delete=models.CASCADE, related_name="placements")
    # Empty once that child was erased: what is another's now stays.
    source = models.ForeignKey(
        "evidence.Submission", on_delete=models.SET_NULL, null=True, related_name="placed_away"
    )
    target = models.ForeignKey(
        "evidence.Submission", on_delete=models.CASCADE, related_name="placed_here"
    )
    also = models.BooleanField(default=False)
    # Whether the look at `source` was taken back by it, to be put back with it.
    took_look_back = models.BooleanField(default=False)
    placed_by = models.ForeignKey(
        "people.User", on_delete=models.SET_NULL, null=True, related_name="+"
    )
    placed_at = models.DateTimeField(default=timezone.now)
    undone_at = models.DateTimeField(null=True, blank=True)

    objects = PlacementQuerySet.as_manager()

    def __str__(self) -> str:
        return f"placement {self.pk}"
