"""How often somebody has knocked at the door of late: the limits on codes, by place and address."""

import datetime as dt

from django.db import models
from django.utils import timezone

from portal.people.accounts.models.fingerprints import fingerprint

KEPT = dt.timedelta(days=1)


class SignInAttempt(models.Model):
    """One try at something limited. Whose it was is kept as a fingerprint, and for a day."""

    class Kind(models.TextChoices):
        CODE_TO_ADDRESS = "code to address"
        SLIP_FROM_SOURCE = "slip from source"
        WRONG_DIGITS = "wrong digits"
        WRONG_PASSWORD = "wrong password"  # noqa: S105 - what is counted, and no password
        NETWORK_OF_SITE = "network of site"
        SITE = "site"
        SECOND_STEP = "second step"

    kind = models.CharField(max_length=20, choices=Kind)
    key = models.CharField(max_length=64)
    at = models.DateTimeField(default=timezone.now)

    class Meta:
        db_table = "people_knock"
        indexes = [models.Index(fields=["kind", "key", "at"], name="knock_of_late")]

    def __str__(self) -> str:
        return f"{self.kind} at {self.at}"

    @classmethod
    def allows(cls, kind: str, who: str, *, most: int, within: dt.timedelta) -> bool:
        """Count a try of *who*; False when there were *most* of them *within* the last while.

        A try that is refused is not counted: whoever waits is let in again, however impatiently.
        """
        if cls.were_too_many(kind, who, most=most, within=within):
            return False
        cls.note(kind, who)
        return True

    @classmethod
    def were_too_many(cls, kind: str, who: str, *, most: int, within: dt.timedelta) -> bool:
        """Whether *who* has made *most* tries or more *within* the last while."""
        since = timezone.now() - within
        return cls.objects.filter(kind=kind, key=fingerprint(who), at__gt=since).count() >= most

    @classmethod
    def note(cls, kind: str, who: str) -> None:
        """Count a try of *who*."""
        cls.objects.create(kind=kind, key=fingerprint(who))

    @classmethod
    def forget(cls, kind: str, who: str) -> None:
        """Forget the tries of *who*, who has got in."""
        cls.objects.filter(kind=kind, key=fingerprint(who)).delete()

    @classmethod
    def purge(cls) -> None:
        """Delete what no limit looks at now."""
        cls.objects.filter(at__lt=timezone.now() - KEPT).delete()
