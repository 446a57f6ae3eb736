"""What staff make of the work: goals, looks, tags, and the week rolled up."""

from typing import Any, Self

from django.db import models
from django.db.models import Q
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from evidence.models import Submission
from portal.people.models import Child, Home, School, SchoolClass


class Framework(models.Model):
    """A set of goals: shipped with the portal, or a school's own."""

    slug = models.SlugField(max_length=60)
    school = models.ForeignKey(
        School, on_delete=models.CASCADE, null=True, blank=True, related_name="frameworks"
    )
    title = models.CharField(max_length=200)
    notice = models.TextField(blank=True)
    stem = models.CharField(max_length=300, blank=True)
    levels = models.JSONField(default=list)
    judged_by = models.CharField(max_length=10, default="goal", help_text=_("strand or goal"))

    class Meta:
        ordering = ["title"]
        constraints = [
            models.UniqueConstraint(
                fields=["slug"], condition=Q(school=None), name="one_shipped_framework_a_slug"
            ),
            models.UniqueConstraint(
                fields=["slug", "school"],
                condition=Q(school__isnull=False),
                name="one_own_framework_a_slug",
            ),
        ]

    def __str__(self) -> str:
        return self.title


class GoalQuerySet(models.QuerySet["Goal"]):
    """Goals, in use or put away."""

    def in_use(self) -> Self:
        """Goals that new tags may name."""
        return self.filter(retired_at=None)

    def for_school(self, school_id: int) -> Self:
        """Goals that are shipped, and the school's own."""
        return self.filter(
            Q(framework__school__isnull=True) | Q(framework__school__exact=school_id)
        )


class Goal(models.Model):
    """One statement of a framework, with the kinds of number work that give evidence of it."""

    framework = models.ForeignKey(Framework, on_delete=models.CASCADE, related_name="goals")
    code = models.CharField(max_length=60)
    strand = models.CharField(max_length=200)
    text = models.TextField()
    kinds = models.JSONField(default=list)
    position = models.PositiveSmallIntegerField()
    retired_at = models.DateTimeField(null=True, blank=True)

    objects = GoalQuerySet.as_manager()

    class Meta:
        ordering = ["framework", "position"]
        constraints = [
            models.UniqueConstraint(fields=["framework", "code"], name="one_goal_a_code"),
        ]

    def __str__(self) -> str:
        return self.text

    @property
    def label(self) -> str:
        """Give the statement to stand alone: without the stop or semicolon of its list."""
        return self.text.rstrip(" ;.,")


class ClassFramework(models.Model):
    """Which goals a class is tagged against. Changing it keeps the tags made before."""

    school_class = models.OneToOneField(
        SchoolClass, on_delete=models.CASCADE, related_name="class_framework"
    )
    framework = models.ForeignKey(Framework, on_delete=models.PROTECT, related_name="classes")

    def __str__(self) -> str:
        return f"{self.school_class}: {self.framework}"


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
    version = models.PositiveIntegerField(default=1)

    def __str__(self) -> str:
        return f"look at submission {self.submission_id}"

    @property
    def stands(self) -> bool:
        """Whether it counts and the family may read it: not so once it was taken back."""
        return self.submission.looked_at is not None

    @property
    def undo_address(self) -> str:
        """Give where the change to this version is undone."""
        return f"{reverse('assessment:undo', args=[self.submission.token])}?version={self.version}"

    @property
    def part_id(self) -> str:
        """Give the name of the part of a page that shows the words of this look."""
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
    tags = models.JSONField(default=list)

    class Meta:
        ordering = ["look", "version"]
        constraints = [
            models.UniqueConstraint(fields=["look", "version"], name="one_past_look_a_version"),
        ]

    def __str__(self) -> str:
        return f"look {self.look_id} at version {self.version}"


class TagQuerySet(models.QuerySet["Tag"]):
    """Tags, by who may see them. Families see the teacher's words, not the tags."""

    def visible_to(self, user: Any) -> Self:
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
        """Give the unsaved tag of *submission*."""
        return cls(
            submission=submission,
            child_id=submission.child_id,
            shown_at=submission.sent_at,
            goal_id=goal_id,
            how=how,
            **more,
        )


class WeekSummaryQuerySet(models.QuerySet["WeekSummary"]):
    """Week summaries, by who may read them."""

    def visible_to(self, user: Any) -> Self:
        """A class's for its staff; a family's for its own home and for the child's staff."""
        classes = SchoolClass.objects.taught_by(user)
        own = Home.objects.none()
        if user.is_active:
            own = Home.objects.filter(guardianships__adult=user, guardianships__ended_at=None)
        family = Q(
            audience=WeekSummary.Audience.FAMILY,
            home__in=own,
            child__in=Child.objects.at_home_with(user),
        )
        return self.filter(Q(school_class__in=classes) | family)


class WeekSummary(models.Model):
    """The roll-up of one ISO week: of a class for its staff, or of a child for one home."""

    class Audience(models.TextChoices):
        STAFF = "staff", _("staff")
        FAMILY = "family", _("family")

    audience = models.CharField(max_length=10, choices=Audience)
    school_class = models.ForeignKey(
        SchoolClass, on_delete=models.CASCADE, related_name="week_summaries"
    )
    child = models.ForeignKey(
        Child, on_delete=models.CASCADE, null=True, blank=True, related_name="week_summaries"
    )
    home = models.ForeignKey(
        Home, on_delete=models.CASCADE, null=True, blank=True, related_name="week_summaries"
    )
    week = models.DateField(help_text=_("The Monday it starts on."))
    figures = models.JSONField()
    made_at = models.DateTimeField(default=timezone.now)

    objects = WeekSummaryQuerySet.as_manager()

    class Meta:
        ordering = ["-week"]
        constraints = [
            models.UniqueConstraint(
                fields=["school_class", "week"],
                condition=Q(audience="staff"),
                name="one_class_summary_a_week",
            ),
            models.UniqueConstraint(
                fields=["child", "home", "week"],
                condition=Q(audience="family"),
                name="one_family_summary_a_week",
            ),
            models.CheckConstraint(
                condition=Q(audience="staff", child=None, home=None)
                | Q(audience="family", child__isnull=False, home__isnull=False),
                name="family_summary_has_a_home",
            ),
            models.CheckConstraint(condition=Q(week__iso_week_day=1), name="week_starts_on_monday"),
        ]

    def __str__(self) -> str:
        return f"{self.audience} summary {self.pk}"


class SummaryMail(models.Model):
    """One mail of one summary to one person, sent once. Its words are made on sending."""

    summary = models.ForeignKey(WeekSummary, on_delete=models.CASCADE, related_name="mails")
    recipient = models.ForeignKey("people.User", on_delete=models.CASCADE, related_name="+")
    home = models.ForeignKey(
        Home, on_delete=models.CASCADE, null=True, blank=True, related_name="summary_mails"
    )
    week = models.DateField()
    claimed_at = models.DateTimeField(null=True, blank=True)
    sent_at = models.DateTimeField(null=True, blank=True)
    attempts = models.PositiveSmallIntegerField(default=0)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["summary", "recipient"], name="one_mail_a_reader"),
            models.UniqueConstraint(
                fields=["recipient", "home", "week"],
                condition=Q(home__isnull=False),
                name="one_mail_a_home_and_week",
            ),
        ]
        indexes = [
            models.Index(fields=["claimed_at"], condition=Q(sent_at=None), name="mail_to_send"),
        ]

    def __str__(self) -> str:
        return f"mail {self.pk}"
