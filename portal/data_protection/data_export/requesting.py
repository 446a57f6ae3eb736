"""Asking for a copy: one at a time, made by a job."""

import datetime as dt

from django.db import transaction
from django.utils import timezone

from portal.data_protection.jobs import make_copy
from portal.data_protection.models import DataExport
from portal.jobs.sending import sending
from portal.jobs.slots import Weight
from portal.people.models import Child, Home, User

AGAIN_AFTER = dt.timedelta(minutes=10)


@transaction.atomic
def ask_for_copy(child: Child, home: Home | None, by: User) -> DataExport:
    """Have a copy made of *child*, or of what *home* sent for it; one in the making is enough.

    A home that asks again soon gets the same, so that nobody keeps the workers busy.
    """
    Child.objects.select_for_update().get(pk=child.pk)
    same = DataExport.objects.in_date().filter(child=child, home=home, asked_by=by)
    if home is None:
        same = same.filter(ready_at=None)
    for earlier in same:
        is_recent = earlier.ready_at is None or earlier.asked_at > timezone.now() - AGAIN_AFTER
        if is_recent and not earlier.has_failed:
            return earlier
    copy = DataExport.objects.create(child=child, home=home, asked_by=by)
    transaction.on_commit(sending(make_copy, copy.pk, weight=Weight.NIGHTS), robust=True)
    return copy
