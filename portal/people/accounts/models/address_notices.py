"""Mails to an address that opens an account no more."""

import datetime as dt
from typing import Self

from django.db import models
from django.utils import timezone

from portal.jobs.outbox import Outgoing, OutgoingQuerySet

KEPT = dt.timedelta(days=2)
PAUSE = dt.timedelta(minutes=10)  # after "not now" by the mail server


class AddressNoticeQuerySet(OutgoingQuerySet["AddressNotice"]):
    """Notices, by what is left to do with them."""

    pauses = (PAUSE,) * (KEPT // PAUSE)
    takes_no_for_an_answer = True

    def done(self) -> Self:
        """Return those that are out, and those that were tried for long enough."""
        late = models.Q(made_at__lte=timezone.now() - KEPT)
        return self.filter(models.Q(mailed_at__isnull=False) | late)


class AddressNotice(Outgoing):
    """Tells the *email* address that an account had before that it was changed.

    Whoever lost an account to somebody else learns of it nowhere else. Deleted once it is out.
    """

    user = models.ForeignKey("people.User", on_delete=models.CASCADE, related_name="+")
    email = models.EmailField()
    made_at = models.DateTimeField(default=timezone.now)

    objects = AddressNoticeQuerySet.as_manager()

    def __str__(self) -> str:
        return f"notice for account {self.user_id}"
