"""Asking for a copy: one at a time, made by a job."""

from typing import Any

from django.db import transaction

from portal.people.jobs import send_later
from portal.people.models import Child, Home
from portal.privacy.jobs import make_copy
from portal.privacy.models import Copy


@transaction.atomic
def ask_for_copy(child: Child, home: Home | None, by: Any) -> Copy:
    """Have a copy made of *child*, or of what *home* sent for it; one in the making is enough."""
    Child.objects.select_for_update().get(pk=child.pk)
    same = Copy.objects.in_date().filter(child=child, home=home, asked_by=by, ready_at=None)
    for waiting in same:
        if not waiting.has_failed:
            return waiting
    copy = Copy.objects.create(child=child, home=home, asked_by=by)
    transaction.on_commit(send_later(make_copy, copy.pk), robust=True)
    return copy
