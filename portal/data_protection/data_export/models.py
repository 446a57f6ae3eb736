"""Copies to take along: asked for, made by a job, fetched, and gone a week later."""

import datetime as dt
import secrets
from typing import Self

from django.db import models
from django.db.models import Q
from django.utils import timezone

from portal.jobs.lease import MOST_CRASHES, Leased, LeasedQuerySet
from portal.people.asking import Asker
from portal.people.models import Child, Guardianship, Home, StaffPost

LIFE = dt.timedelta(days=7)


def new_token() -> str:
    """Return a random name of 192 bits."""
    return secrets.token_urlsafe(24)


class DataExportQuerySet(LeasedQuerySet["DataExport"]):
    """Copies, by who may have them and what is left to do on them."""

    def visible_to(self, user: Asker) -> Self:
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
        return self.unleased().in_date().filter(ready_at=None, crashes__lt=MOST_CRASHES)

    def claim(self, pk: int) -> "DataExport | None":
        """Take the work on copy *pk*; None: not there to take."""
        return self.to_do().take(pk)

    def held(self, row: "DataExport") -> Self:
        """Return copy *row* as long as its claim stands and it is wanted."""
        return super().held(row).filter(ready_at=None)

    def give_up(self, row: "DataExport") -> None:
        """Try copy *row* no more; whoever asked is told."""
        self.held(row).update(crashes=MOST_CRASHES, leased_until=None)


class DataExport(Leased):
    """All that is kept of one child, or what one home sent and was told: on pages, a copy."""

    token = models.CharField(max_length=40, unique=True, default=new_token, editable=False)
    child = models.ForeignKey(Child, on_delete=models.CASCADE, related_name="copies")
    home = models.ForeignKey(Home, on_delete=models.CASCADE, null=True, related_name="copies")
    asked_by = models.ForeignKey(
        "people.User", on_delete=models.CASCADE, null=True, related_name="copies"
    )
    asked_at = models.DateTimeField(default=timezone.now)
    done = models.PositiveIntegerField(default=0)
    most = models.PositiveIntegerField(default=0)
    file = models.CharField(max_length=60, blank=True)
    size = models.PositiveBigIntegerField(default=0)
    ready_at = models.DateTimeField(null=True, blank=True)

    objects = DataExportQuerySet.as_manager()

    class Meta:
        db_table = "privacy_copy"
        ordering = ["-asked_at", "-pk"]

    def __str__(self) -> str:
        return f"copy {self.pk}"

    @property
    def goes_at(self) -> dt.datetime:
        """Return when it is deleted."""
        return self.asked_at + LIFE

    @property
    def has_failed(self) -> bool:
        """Whether nobody will try to make it any more."""
        return self.ready_at is None and self.crashes >= MOST_CRASHES
