"""Looks at what came in, and the tags that were put on it."""

from typing import Any, Self

from django.db import models
from django.urls import reverse
from django.utils import timezone
from django.utils.functional import cached_property
from django.utils.translation import gettext_lazy as _

from assessment.goals.models import Goal
from evidence.models import Submission
from evidence.submissions.answered import SEEN_BY_FAMILIES_AFTER, told_up_to
from portal.people.asking import Asker
from portal.people.models import Child


class Look(models.Model):
    """A member of staff's reading of one submission: the reply and the next step.

    `version` counts the changes; a form that was opened on an older one is not saved over it.
    """

    submission = models.OneToOneField(Submission, on_delete=models.CASCADE, related_name="look")
    looked_by = models.ForeignKey(
        "people.User", on_delete=models.SET_NULL, null=True, related_name="+"
    )
    looked_at = models.DateTimeField(default=timezone.now)
    reply = models.TextField(_("reply to the child"), max_length=1000, blank=True)
    next_step = models.CharField(_("next step"), max_length=300, blank=True)
    # Since when the family is asked for one more piece; empty where it is not.
    asked_more_at = models.DateTimeField(null=True, blank=True)
    # What is drawn over each picture, as `read_strokes` gives it.
    strokes = models.JSONField(default=dict, db_default={})
    version = models.PositiveIntegerField(default=1)

    def __str__(self) -> str:
        return f"look at submission {self.submission_id}"

    @property
    def stands(self) -> bool:
        """Whether it counts and the family may read it: not so once it was taken back."""
        return self.submission.looked_at is not None

    @property
    def is_told(self) -> bool:
        """Whether families read it as it stands, and not as it was before the last change."""
        return self.looked_at <= told_up_to()

    @cached_property
    def for_family(self) -> "Look | PastLook":
        """Return what the home reads: for a moment after a change, the look as it was before."""
        if self.is_told:
            return self
        # One that was changed within the moment itself was never read.
        read = self.past.filter(stood=True, looked_at__lte=self.looked_at - SEEN_BY_FAMILIES_AFTER)
        return read.last() or self

    @property
    def undo_address(self) -> str:
        """Return where the change to this version is undone."""
        return f"{reverse('assessment:undo', args=[self.submission.token])}?version={self.version}"

    @property
    def part_id(self) -> str:
        """Return the name of the part of a page that shows the words of this look."""
        return f"reply-{self.pk}"


class PastLook(models.Model):
    """A look as it was before a change, so that the change can be undone.

    `tags` holds what each tag said. One that did not stand had been taken back.
    """

    look = models.ForeignKey(Look, on_delete=models.CASCADE, related_name="past")
    version = models.PositiveIntegerField()
    looked_by = models.ForeignKey(
        "people.User", on_delete=models.SET_NULL, null=True, related_name="+"
    )
    looked_at = models.DateTimeField()
    stood = models.BooleanField()
    reply = models.TextField(blank=True)
    next_step = models.CharField(max_length=300, blank=True)
    asked_more_at = models.DateTimeField(null=True, blank=True)
    strokes = models.JSONField(default=dict, db_default={})
    said_at = models.DateTimeField(null=True, blank=True)
    tags = models.JSONField(default=list)

    class Meta:
        ordering = ["look", "version"]
        constraints = [
            models.UniqueConstraint(fields=["look", "version"], name="one_past_look_a_version"),
        ]

    def __str__(self) -> str:
        return f"look {self.look_id} at version {self.version}"


class TagQuerySet(models.QuerySet["Tag"]):
    """Tags, by who may see them. On leaves families read what was shown."""

    def visible_to(self, user: Asker) -> Self:
        """Tags on the work of children *user* teaches."""
        return self.filter(child__in=Child.objects.taught_by(user))


class Tag(models.Model):
    """One goal on one submission, and how the child showed it.

    Tags are there while their look stands: a look that is taken back keeps them in PastLook.
    `child` and `shown_at` repeat the submission's, for the index that a full class is read by.
    """

    class How(models.TextChoices):
        NOT_YET = "not yet", _("not yet")
        WITH_SUPPORT = "with support", _("with support")
        INDEPENDENTLY = "independently", _("independently")
        NEW_SITUATION = "in a new situation", _("in a new situation")

    submission = models.ForeignKey(Submission, on_delete=models.CASCADE, related_name="tags")
    child = models.ForeignKey(Child, on_delete=models.CASCADE, related_name="tags")
    shown_at = models.DateTimeField(help_text=_("When the work was sent."))
    goal = models.ForeignKey(Goal, on_delete=models.PROTECT, related_name="tags")
    how = models.CharField(_("how shown"), max_length=20, choices=How)
    tagged_by = models.ForeignKey(
        "people.User", on_delete=models.SET_NULL, null=True, related_name="+"
    )
    by_assistant = models.BooleanField(default=False)
    tagged_at = models.DateTimeField(default=timezone.now)

    objects = TagQuerySet.as_manager()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["submission", "goal"], name="one_tag_a_goal"),
        ]
        indexes = [
            models.Index(fields=["child", "goal", "-shown_at", "-id", "how"], name="tag_shown"),
        ]

    def __str__(self) -> str:
        return f"{self.goal.code}: {self.how}"

    def save(self, *args: Any, **more: Any) -> None:
        self.child_id, self.shown_at = self.submission.child_id, self.submission.sent_at
        super().save(*args, **more)

    @classmethod
    def on(cls, submission: Submission, goal_id: int, how: str, **more: Any) -> "Tag":
        """Return the unsaved tag of *submission*."""
        return cls(
            submission=submission,
            child_id=submission.child_id,
            shown_at=submission.sent_at,
            goal_id=goal_id,
            how=how,
            **more,
        )
