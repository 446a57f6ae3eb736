"""When a home is told that the school has looked at what it sent: a moment after that was saved.

Until then whoever saved a look can undo it, and the home has noticed nothing.
"""

import datetime as dt
import logging
from typing import Self, TypeVar

from django.db import DatabaseError, models, transaction
from django.db.models import F, Q
from django.utils import timezone

log = logging.getLogger(__name__)

SEEN_BY_FAMILIES_AFTER = dt.timedelta(seconds=10)

Row = TypeVar("Row", bound="Answered")


def told_up_to() -> dt.datetime:
    """Return the time: what staff saved later than that, no family reads yet."""
    return timezone.now() - SEEN_BY_FAMILIES_AFTER


def not_read() -> Q:
    """Tell of answered work whether its home has not yet read the reply as it stands."""
    opened_before = Q(opened_at__lt=F("said_at") + SEEN_BY_FAMILIES_AFTER)
    return Q(opened_at=None) | Q(opened_before, said_at__lte=told_up_to())


class AnsweredQuerySet(models.QuerySet[Row]):
    """Work, by what its home is told of the look at it."""

    def answered(self) -> Self:
        """Those of which the home is told that they were looked at."""
        return self.filter(looked_at__lte=told_up_to())

    def unopened(self) -> Self:
        """Those answered, of which the home has not yet read the reply as it stands."""
        return self.answered().filter(not_read())


class Answered(models.Model):
    """What a submission knows of the look at it."""

    looked_at = models.DateTimeField(null=True, blank=True, editable=False)
    # When what the home reads of it was last put in other words; empty where it never was.
    said_at = models.DateTimeField(null=True, blank=True, editable=False)
    # When the home first read the reply as it stood.
    opened_at = models.DateTimeField(null=True, blank=True, editable=False)

    class Meta:
        abstract = True

    @property
    def is_answered(self) -> bool:
        """Whether its home is told that it was looked at."""
        return self.looked_at is not None and self.looked_at <= told_up_to()

    @property
    def is_unopened(self) -> bool:
        """Whether its home has not yet read the reply as it stands."""
        if not self.is_answered or self.opened_at is None:
            return self.is_answered
        if self.said_at is None or self.said_at > told_up_to():
            return False
        return self.opened_at < self.said_at + SEEN_BY_FAMILIES_AFTER

    def note_opened(self) -> None:
        """Note that its home reads the reply now. What can be read is read even if this fails."""
        if not self.is_unopened:
            return
        try:
            with transaction.atomic():
                unopened = type(self)._default_manager.filter(pk=self.pk).unopened()
                unopened.update(opened_at=timezone.now())
        except DatabaseError:
            log.warning("that a reply was opened could not be kept", exc_info=True)
