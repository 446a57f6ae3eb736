"""When each piece of upkeep was last done, and what is gone for good."""

import datetime as dt
from typing import Self

from django.db import models
from django.utils import timezone


class Mark(models.Model):
    """One thing that is done again and again, and when it last went well."""

    class Name(models.TextChoices):
        TICK = "tick", "a job of the beat"
        BACKUP = "backup", "backup"
        DRILL = "drill", "restore drill"
        SCRUB = "scrub", "comparing of files"
        CLOCK = "clock", "a moment that was believed"

    name = models.CharField(max_length=20, choices=Name, primary_key=True)
    at = models.DateTimeField()

    def __str__(self) -> str:
        return f"{self.name} at {self.at:%Y-%m-%d %H:%M}"

    @classmethod
    def make(cls, name: Name, at: dt.datetime | None = None) -> Self:
        """Note that *name* went well, now unless told otherwise."""
        mark, _new = cls.objects.update_or_create(name=name, defaults={"at": at or timezone.now()})
        return mark

    @classmethod
    def ages(cls, now: dt.datetime | None = None) -> dict[str, float]:
        """Return for each thing ever done how many seconds ago that was."""
        now = now or timezone.now()
        return {mark.name: max(0.0, (now - mark.at).total_seconds()) for mark in cls.objects.all()}


class Gone(models.Model):
    """One line of portal.operations.erasure_list, for the other machines."""

    at = models.DateTimeField()
    model = models.CharField(max_length=100)
    key = models.BigIntegerField()
    what = models.CharField(max_length=20)
    details = models.JSONField(default=dict)

    def __str__(self) -> str:
        return f"{self.model} {self.key} {self.what} at {self.at:%Y-%m-%d %H:%M}"
