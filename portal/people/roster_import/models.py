"""Roster files on their way in, what a school's files look like, and what the last one changed."""

import datetime as dt
from typing import Self

from django.db import models
from django.db.models import Q
from django.utils import timezone

from portal.people.asking import Asker
from portal.people.school.models import School, StaffPost

# A file that was brought in and not run holds more than the portal keeps: it goes after an hour.
DRAFT_LIFE = dt.timedelta(hours=1)
# How long the last file can be undone, and so how long what it changed is remembered.
UNDO_LIFE = dt.timedelta(days=14)


class RosterRunQuerySet(models.QuerySet["RosterRun"]):
    """Runs of a roster file."""

    def kept_by(self, user: Asker) -> Self:
        """Runs of the schools whose roster *user* keeps."""
        if not user.is_active:
            return self.none()
        keepers = [StaffPost.Role.LEAD, StaffPost.Role.OFFICE]
        posts = StaffPost.objects.current().filter(user=user, role__in=keepers)
        return self.filter(school__in=posts.values("school"))

    def drafts(self) -> Self:
        """Those whose file is here and was not run yet."""
        since = timezone.now() - DRAFT_LIFE
        return self.filter(state=RosterRun.State.DRAFT, made_at__gt=since)

    def forget(self) -> None:
        """Drop files that were never run, and what can no longer be undone."""
        stale = self.filter(state=RosterRun.State.DRAFT, made_at__lte=timezone.now() - DRAFT_LIFE)
        stale.update(state=RosterRun.State.DROPPED, content=None, answers={})
        old = self.filter(applied_at__lte=timezone.now() - UNDO_LIFE)
        old.update(changes=[], answers={})


class RosterRun(models.Model):
    """One roster file, from its arrival until it was run, dropped or undone.

    `content` holds the file only while it is a draft. `changes` is what undoing takes back: ids,
    and what stood there before.
    """

    class State(models.TextChoices):
        DRAFT = "draft"
        APPLIED = "applied"
        UNDONE = "undone"
        DROPPED = "dropped"

    school = models.ForeignKey(School, on_delete=models.CASCADE, related_name="roster_runs")
    made_by = models.ForeignKey(
        "people.User", on_delete=models.SET_NULL, null=True, related_name="+"
    )
    made_at = models.DateTimeField(default=timezone.now)
    state = models.CharField(max_length=8, choices=State, default=State.DRAFT)
    content = models.BinaryField(null=True)
    columns = models.JSONField(default=list)
    # Whose class every row is of, where no column of the file says so.
    one_class = models.CharField(max_length=40, blank=True)
    year = models.ForeignKey("people.SchoolYear", on_delete=models.SET_NULL, null=True)
    whole_school = models.BooleanField(default=False)
    left_out = models.JSONField(default=list)
    answers = models.JSONField(default=dict)
    figures = models.JSONField(default=dict)
    changes = models.JSONField(default=list)
    applied_at = models.DateTimeField(null=True, blank=True)
    undone_at = models.DateTimeField(null=True, blank=True)

    objects = RosterRunQuerySet.as_manager()

    class Meta:
        ordering = ["-made_at"]
        constraints = [
            models.CheckConstraint(
                condition=Q(state="draft") | Q(content=None), name="only_a_draft_holds_a_file"
            ),
        ]

    def __str__(self) -> str:
        return f"roster file {self.pk}"


class RosterHabits(models.Model):
    """What the files of a school look like: which heading holds what, which classes stay out."""

    school = models.OneToOneField(School, on_delete=models.CASCADE, related_name="roster_habits")
    columns = models.JSONField(default=dict)
    left_out = models.JSONField(default=list)

    def __str__(self) -> str:
        return f"roster files of school {self.school_id}"
