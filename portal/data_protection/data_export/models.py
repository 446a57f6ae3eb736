"""Copies to take along: asked for, made by a job, fetched, and gone a week later."""

import datetime as dt
import secrets
from typing import Any, Self

from django.db import models
from django.db.models import F, Q
from django.utils import timezone

from portal.people.models import Child, Guardianship, Home, StaffPost

LIFE = dt.timedelta(days=7)
# A worker renews its claim with every file; one that died gives the copy up this much later.
LEASE = dt.timedelta(minutes=5)
MAX_ATTEMPTS = 3


def new_token() -> str:
    """Return a random name of 192 bits."""
    return secrets.token_urlsafe(24)


class CopyQuerySet(models.QuerySet["Copy"]):
    """Copies, by who may have them and what is left to do on them."""

    def visible_to(self, user: Any) -> Self:
        """Copies of a home's own things for who asked and still lives there; all for a lead."""
        if not user.is_active:
            return self.none()
        led = StaffPost.objects.current().filter(user=user, role=StaffPost.Role.LEAD)
        here = Guardianship.objects.that_let_see(user)
        return self.filter(
            Q(home=None, child__school__in=led.values("school"))
            | Q(models.Exists(here), asked_by=user)
        )

    def in_date(self) -> Self:
        """Copies not older than a week."""
        return self.filter(asked_at__gt=timezone.now() - LIFE)

    def to_do(self) -> Self:
        """Copies that wait for a worker, or whose worker has died."""
        free = Q(claimed_at=None) | Q(claimed_at__lt=timezone.now() - LEASE)
        return self.in_date().filter(free, ready_at=None, attempts__lt=MAX_ATTEMPTS)

    def claim(self, pk: int) -> "Copy | None":
        """Take the work on copy *pk*; None: not there to take."""
        taken = self.to_do().filter(pk=pk)
        if not taken.update(claimed_at=timezone.now(), attempts=F("attempts") + 1):
            return None
        return self.select_related("child__school", "home", "asked_by").filter(pk=pk).first()

    def held(self, copy: "Copy") -> Self:
        """Return *copy* as long as its claim stands and it is wanted."""
        return self.filter(pk=copy.pk, attempts=copy.attempts, ready_at=None)


class Copy(models.Model):
    """All that is kept of one child, or what one home sent and was told, as one file."""

    token = models.CharField(max_length=40, unique=True, default=new_token, editable=False)
    child = models.ForeignKey(Child, on_delete=models.CASCADE, related_name="copies")
    home = models.ForeignKey(Home, on_delete=models.CASCADE, null=True, related_name="copies")
    asked_by = models.ForeignKey(
        "people.User", on_delete=models.CASCADE, null=True, related_name="copies"
    )
    asked_at = models.DateTimeField(default=timezone.now)
    claimed_at = models.DateTimeField(null=True, blank=True)
    attempts = models.PositiveSmallIntegerField(default=0)
    done = models.PositiveIntegerField(default=0)
    most = models.PositiveIntegerField(default=0)
    file = models.CharField(max_length=60, blank=True)
    size = models.PositiveBigIntegerField(default=0)
    ready_at = models.DateTimeField(null=True, blank=True)

    objects = CopyQuerySet.as_manager()

    class Meta:
        ordering = ["-asked_at", "-pk"]
        verbose_name_plural = "copies"

    def __str__(self) -> str:
        return f"copy {self.pk}"

    @property
    def goes_at(self) -> dt.datetime:
        """Return when it is deleted."""
        return self.asked_at + LIFE

    @property
    def has_failed(self) -> bool:
        """Whether nobody will try to make it any more."""
        return self.ready_at is None and self.attempts >= MAX_ATTEMPTS and self.claim_is_over

    @property
    def claim_is_over(self) -> bool:
        """Whether whoever worked on it last has given it up."""
        return self.claimed_at is None or self.claimed_at < timezone.now() - LEASE
