"""The browsers somebody is signed in with, so that each can be named and ended."""

from typing import Self

from django.contrib.sessions.models import Session
from django.db import models
from django.utils import timezone


class DeviceQuerySet(models.QuerySet["Device"]):
    """Signed-in browsers, and how they are ended."""

    def end(self) -> int:
        """Sign these out, from their very next request on; give how many they were."""
        keys = list(self.values_list("session_key", flat=True))
        Session.objects.filter(session_key__in=keys).delete()
        self.filter(session_key__in=keys).delete()
        return len(keys)

    def gone(self) -> Self:
        """Those whose session has run out."""
        live = Session.objects.filter(expire_date__gt=timezone.now())
        return self.exclude(session_key__in=live.values("session_key"))


class Device(models.Model):
    """One browser that is signed in: 'a phone, since 3 September'. Ended with its session."""

    user = models.ForeignKey("people.User", on_delete=models.CASCADE, related_name="devices")
    session_key = models.CharField(max_length=40, unique=True)
    label = models.CharField(max_length=40)
    began_at = models.DateTimeField(default=timezone.now)
    seen_at = models.DateTimeField(default=timezone.now)

    objects = DeviceQuerySet.as_manager()

    class Meta:
        ordering = ["-seen_at"]

    def __str__(self) -> str:
        return f"device {self.pk}"
