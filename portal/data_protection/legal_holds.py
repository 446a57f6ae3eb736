"""Holds: what a lead keeps from being deleted. A hold says nowhere why it is there."""

from typing import Self

from django.db import models
from django.db.models import Exists, OuterRef, Q
from django.utils import timezone

from portal.people.asking import Asker
from portal.people.models import Child, StaffPost, User


class LegalHoldQuerySet(models.QuerySet["LegalHold"]):
    """Holds, by who may know of them and whether they still stand."""

    def visible_to(self, user: Asker) -> Self:
        """Holds at the schools that *user* leads."""
        if not user.is_active:
            return self.none()
        led = StaffPost.objects.current().filter(user=user, role=StaffPost.Role.LEAD)
        return self.filter(child__school__in=led.values("school"))

    def active(self) -> Self:
        """Holds that were not ended."""
        return self.filter(ended_at=None)

    def on_child(self, child: str = "pk") -> Exists:
        """Say in a query whether the child that field *child* names is held whole."""
        return Exists(self.active().filter(child=OuterRef(child), work=None))

    def about_child(self, child: str = "pk") -> Exists:
        """Say in a query whether the child, or any of its work, is held."""
        return Exists(self.active().filter(child=OuterRef(child)))

    def on_work(self, child: str = "child", work: str = "pk") -> Exists:
        """Say in a query whether a piece of work is held, by itself or with its child."""
        whole_or_this = Q(work=None) | Q(work=OuterRef(work))
        return Exists(self.active().filter(whole_or_this, child=OuterRef(child)))


class LegalHold(models.Model):
    """Keeps a child's data, or one piece of work, from being deleted and out of summaries.

    `work` is the key of the piece of work alone: what it is a key of stands further up.
    """

    child = models.ForeignKey(Child, on_delete=models.CASCADE, related_name="holds")
    work = models.BigIntegerField(null=True, blank=True)
    placed_by = models.ForeignKey(
        "people.User", on_delete=models.SET_NULL, null=True, related_name="+"
    )
    placed_at = models.DateTimeField(default=timezone.now)
    ended_by = models.ForeignKey(
        "people.User", on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    ended_at = models.DateTimeField(null=True, blank=True)

    objects = LegalHoldQuerySet.as_manager()

    class Meta:
        db_table = "privacy_hold"
        ordering = ["-placed_at", "-pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["child"],
                condition=Q(work=None, ended_at=None),
                name="one_standing_hold_a_child",
            ),
            models.UniqueConstraint(
                fields=["work"],
                condition=Q(work__isnull=False, ended_at=None),
                name="one_standing_hold_a_work",
            ),
        ]

    def __str__(self) -> str:
        return f"hold {self.pk}"

    @classmethod
    def place(cls, child: Child, work: int | None, by: User) -> "LegalHold":
        """Hold *child*, or its piece of *work*; where it is held already, that hold stays."""
        standing = cls.objects.active()
        hold, _new = standing.get_or_create(child=child, work=work, defaults={"placed_by": by})
        return hold

    @classmethod
    def end(cls, child: Child, work: int | None, by: User) -> bool:
        """End the hold on *child*, or on its piece of *work*; False: there was none."""
        standing = cls.objects.active().filter(child=child, work=work)
        return bool(standing.update(ended_at=timezone.now(), ended_by=by))
