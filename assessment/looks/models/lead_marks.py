"""Pieces of work that staff want whoever leads the year to see."""

from typing import Self

from django.db import models
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from evidence.models import Submission
from portal.people.asking import Asker


class LeadMarkQuerySet(models.QuerySet["LeadMark"]):
    """Marks, by who may see them. Families see none."""

    def visible_to(self, user: Asker) -> Self:
        """Marks on the standing work of children that *user* teaches; of all, for a lead."""
        return self.filter(submission__in=Submission.objects.taught_by(user).active())

    def open(self) -> Self:
        """Marks that nobody has settled."""
        return self.filter(settled_at=None)


class LeadMark(models.Model):
    """A submission marked for the lead, with a short note why."""

    submission = models.OneToOneField(
        Submission, on_delete=models.CASCADE, related_name="lead_mark"
    )
    words = models.CharField(_("why"), max_length=200, blank=True)
    marked_by = models.ForeignKey(
        "people.User", on_delete=models.SET_NULL, null=True, related_name="+"
    )
    marked_at = models.DateTimeField(default=timezone.now)
    settled_by = models.ForeignKey(
        "people.User", on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    settled_at = models.DateTimeField(null=True, blank=True)

    objects = LeadMarkQuerySet.as_manager()

    class Meta:
        ordering = ["-marked_at", "-pk"]
        indexes = [
            models.Index(
                fields=["submission"], condition=models.Q(settled_at=None), name="open_mark"
            ),
        ]

    def __str__(self) -> str:
        return f"mark on submission {self.submission_id}"
