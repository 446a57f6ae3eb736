"""What an adult at home has chosen: an hour, mail or not, and the browsers that show reminders."""

import datetime as dt
import hashlib
from typing import ClassVar, Self

from django.db import models
from django.db.models import Exists, OuterRef, Q
from django.utils import timezone

from portal.jobs.lease import Leased, LeasedQuerySet
from portal.jobs.outbox import UNSENT, Outgoing, OutgoingQuerySet
from portal.people.asking import Asker
from portal.people.models import User

FIRST_HOUR, LAST_HOUR, USUAL_HOUR = 7, 20, 16
MOST_PLACES = 5  # browsers of one adult; the oldest makes room


class ReminderQuerySet(OutgoingQuerySet["Reminder"]):
    """Choices of adults; each reads only their own."""

    pauses: ClassVar[tuple[dt.timedelta, ...]] = ()  # After a refusal tomorrow is soon enough.

    def of(self, user: Asker) -> Self:
        """Those of *user*."""
        return self.filter(adult=user) if user.is_active else self.none()

    def not_yet_on(self, day: dt.date) -> Self:
        """Those of whose mail of *day* nobody has thought yet."""
        return self.filter(Q(last_day=None) | Q(last_day__lt=day))

    def left_on(self, day: dt.date) -> Self:
        """Those by which somebody is still to be reached on *day*: an address, or a browser."""
        by_mail = (self.not_yet_on(day) | self.unsent()).reached_by_mail()
        places = PushPlace.objects.not_yet_on(day).filter(adult=OuterRef("adult"))
        return (by_mail | self.filter(Exists(places))).filter(adult__is_active=True)

    def reached_by_mail(self) -> Self:
        """Those whose adult wants mail at an address that is theirs, and none came back."""
        reached = {"adult__email_confirmed_at__isnull": False, "adult__mail_came_back_at": None}
        return self.filter(by_mail=True, **reached)

    def ask_on(self, day: dt.date) -> None:
        """Have the mail of *day* to these go out, once, however often this is called."""
        self.not_yet_on(day).update(last_day=day, **UNSENT)


class Reminder(Outgoing):
    """One adult wants to be reminded on school days. No row: nothing is ever sent."""

    adult = models.OneToOneField(
        "people.User", on_delete=models.CASCADE, primary_key=True, related_name="reminder"
    )
    hour = models.PositiveSmallIntegerField(default=USUAL_HOUR)
    by_mail = models.BooleanField(default=False)
    # The school day of the last mail, out or not: at most one goes out a day.
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


class PushPlaceQuerySet(LeasedQuerySet["PushPlace"]):
    """Browsers, by whether they were woken."""

    def not_yet_on(self, day: dt.date) -> Self:
        """Those not woken on *day*."""
        return self.filter(Q(woken_on=None) | Q(woken_on__lt=day))

    def note_woken(self, place: "PushPlace", day: dt.date) -> None:
        """Note that *place* was woken on *day*, or that its push service would not."""
        self.held(place).update(woken_on=day, leased_until=None, attempts=0)


class PushPlace(Leased):
    """One browser that shows reminders: the address its own push service gave it."""

    adult = models.ForeignKey("people.User", on_delete=models.CASCADE, related_name="push_places")
    endpoint = models.TextField(max_length=600)
    endpoint_hash = models.CharField(max_length=64, unique=True, editable=False)
    made_at = models.DateTimeField(default=timezone.now)
    woken_on = models.DateField(null=True, blank=True, editable=False)

    objects = PushPlaceQuerySet.as_manager()

    class Meta:
        ordering = ["-made_at", "-pk"]

    def __str__(self) -> str:
        return f"push place {self.pk}"

    @classmethod
    def keep(cls, user: User, endpoint: str) -> None:
        """Keep a browser of *user*; one that somebody else used before is theirs from now on."""
        said = {"adult": user, "endpoint": endpoint, "made_at": timezone.now()}
        cls.objects.update_or_create(endpoint_hash=mark_of(endpoint), defaults=said)
        Reminder.objects.get_or_create(adult=user)
        too_many = cls.objects.filter(adult=user).values_list("pk", flat=True)[MOST_PLACES:]
        cls.objects.filter(pk__in=list(too_many)).delete()


def mark_of(endpoint: str) -> str:
    """Return what one endpoint is found by."""
    return hashlib.sha256(endpoint.encode()).hexdigest()
