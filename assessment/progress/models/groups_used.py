"""Suggested groups that a teacher took over, so that doing so can be undone."""

from django.db import models
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from portal.people.models import SchoolClass


class GroupsUsed(models.Model):
    """One taking over of suggested groups, and what stood before."""

    school_class = models.ForeignKey(
        SchoolClass, on_delete=models.CASCADE, related_name="groups_used"
    )
    by = models.ForeignKey("people.User", on_delete=models.SET_NULL, null=True, related_name="+")
    at = models.DateTimeField(default=timezone.now)
    before = models.JSONField(help_text=_("The keys of the children of each group that changed."))
    made = models.JSONField(help_text=_("The keys of the groups that were made."))
    undone_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-at", "-pk"]

    def __str__(self) -> str:
        return f"groups used {self.pk}"
