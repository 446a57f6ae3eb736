"""Marking a piece of work for whoever leads the year, and settling the mark."""

from django.utils import timezone

from assessment.models import LeadMark
from evidence.models import Submission
from portal.people.models import User


def mark_for_lead(submission: Submission, user: User, words: str) -> LeadMark:
    """Mark *submission* for the lead, or mark it again with other words."""
    said = {"words": words, "marked_by": user, "marked_at": timezone.now()}
    mark, _new = LeadMark.objects.update_or_create(
        submission=submission, defaults={**said, "settled_by": None, "settled_at": None}
    )
    return mark


def settle(mark: LeadMark, user: User) -> None:
    """Take *mark* off the lead's list. One that is off it already stays as it is."""
    open_ = LeadMark.objects.open().filter(pk=mark.pk)
    open_.update(settled_by=user, settled_at=timezone.now())


def open_again(mark: LeadMark) -> None:
    """Put *mark* back on the lead's list."""
    LeadMark.objects.filter(pk=mark.pk).update(settled_by=None, settled_at=None)
