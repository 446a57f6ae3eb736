"""What an adult at home has chosen: an hour, mail or not, and the browsers that show reminders."""

import datetime as dt
import hashlib
from typing import Any, Self

from django.db import models
from django.db.models import Exists, OuterRef, Q
from django.utils import timezone

FIRST_HOUR, LAST_HOUR, USUAL_HOUR = 7, 20, 16
MOST_PLACES = 5  # browsers of one adult; the oldest makes room


class ReminderQuerySet(models.QuerySet["Reminder"]):
    """Choices of adults; each reads only their own."""

    def of(self, user: Any) -> Self:
        """Those of *user*."""
        return self.filter(adult=user) if user.is_active else self.none()

    def reaching(self) -> Self:
        """Those by which somebody can be reached: a confirmed address, or a browser."""
        places = PushPlace.objects.filter(adult=OuterRef("adult"))
        mail = Q(by_mail=True, adult__email_confirmed_at__isnull=False)
        return self.filter(mail | Exists(places), adult__is_active=True)

    def not_yet_on(self, day: dt.date) -> Self:
        """Those of which nothing went out on *day*."""
        return self.filter(Q(last_day=None) | Q(last_day__lt=day))

    def claim(self, pk: int, day: dt.date) -> bool:
        """Take the one reminder of *day* to adult *pk*: of two workers exactly one is told True."""
        return self.filter(pk=pk).not_yet_on(day).update(last_day=day) == 1


class Reminder(models.Model):
    """One adult wants to be reminded on school days. No row: nothing is ever sent."""

    adult = models.OneToOneField(
        "people.User", on_delete=models.CASCADE, primary_key=True, related_name="reminder"
    )
    hour = models.PositiveSmallIntegerField(default=USUAL_HOUR)
    by_mail = models.BooleanField(default=False)
    # The school day of the last one: at most one goes out a day.
    last_day = models.DateField(null=True, blank=True, editable=False)

    objects = ReminderQuerySet.as_manager()

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(hour__gte=FIRST_HOUR, hour__lte=LAST_HOUR), name="reminder_by_day"
            ),
        ]

    def __str__(self) -> str:
        return f"reminder {self.pk}"

    @classmethod
    def stop(cls, user_pk: int) -> None:
        """Stop all reminders to one adult, and forget where they went."""
        PushPlace.objects.filter(adult=user_pk).delete()
        cls.objects.filter(adult=user_pk).delete()


class PushPlace(models.Model):
    """One browser that shows reminders: the address its own push service gave it."""

    adult = models.ForeignKey("people.User", on_delete=models.CASCADE, related_name="push_places")
    endpoint = models.TextField(max_length=600)
    endpoint_hash = models.CharField(max_length=64, unique=True, editable=False)
    made_at = models.DateTimeField(default=timezone.now)

    class Meta:
        ordering = ["-made_at", "-pk"]

    def __str__(self) -> str:
        return f"push place {self.pk}"

    @classmethod
    def keep(cls, user: Any, endpoint: str) -> None:
        """Keep a browser of *user*; one that somebody else used before is theirs from now on."""
        said = {"adult": user, "endpoint": endpoint, "made_at": timezone.now()}
        cls.objects.update_or_create(endpoint_hash=mark_of(endpoint), defaults=said)
        Reminder.objects.get_or_create(adult=user)
        too_many = cls.objects.filter(adult=user).values_list("pk", flat=True)[MOST_PLACES:]
        cls.objects.filter(pk__in=list(too_many)).delete()


def mark_of(endpoint: str) -> str:
    """Return what one endpoint is found by."""
    return hashlib.sha256(endpoint.encode()).hexdigest()
