"""Goals: sets of statements, each with the kinds of number work that give evidence of it."""

from typing import Self

from django.db import models
from django.db.models import Count, Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from assessment.frameworks import FROM_MEMORY
from assessment.frameworks.showing.asked import Asked
from portal.people.asking import Asker
from portal.people.models import School, SchoolClass, StaffPost
from tasks.numberwork import kind_kept


class FrameworkQuerySet(models.QuerySet["Framework"]):
    """Sets of goals. They hold no child's data; a school's own are for that school alone."""

    def visible_to(self, user: Asker) -> Self:
        """Those shipped, and the own of the schools at which *user* teaches or leads."""
        if not self.keeps_any(user):
            return self.none()
        return self.filter(Q(school=None) | Q(pk__in=self.model.objects.kept_by(user).values("pk")))

    def kept_by(self, user: Asker) -> Self:
        """The own sets of the schools at which *user* is a teacher or a lead."""
        return self.filter(school__in=self.keeps_any(user).values("school"))

    @staticmethod
    def keeps_any(user: Asker) -> models.QuerySet[StaffPost]:
        """Return the posts by which *user* may keep a school's own sets; none for most people."""
        if not user.is_active:
            return StaffPost.objects.none()
        keepers = [StaffPost.Role.TEACHER, StaffPost.Role.LEAD]
        return StaffPost.objects.current().filter(user=user, role__in=keepers)

    def with_unconfirmed(self) -> Self:
        """Say of each as `unconfirmed` how many statements nobody has held against the original."""
        from_memory = Q(goals__retired_at=None, goals__note__startswith=FROM_MEMORY)
        return self.annotate(unconfirmed=Count("goals", filter=from_memory))

    def to_choose(self, school: School) -> Self:
        """Those that a class of *school* may be tagged against from now on."""
        return self.with_unconfirmed().filter(
            Q(school=None) | Q(school=school), draft=False, put_away_at=None
        )


class Framework(models.Model):
    """A set of goals: shipped with the portal, or a school's own.

    An own set is a draft until somebody has seen what was read from its file. One that is to
    put another right (`replaces`) becomes part of that one.
    """

    slug = models.SlugField(max_length=60)
    identifier = models.CharField(max_length=200, blank=True, help_text=_("Its publisher's."))
    school = models.ForeignKey(
        School, on_delete=models.CASCADE, null=True, blank=True, related_name="frameworks"
    )
    title = models.CharField(max_length=200)
    notice = models.TextField(blank=True)
    stem = models.CharField(max_length=300, blank=True)
    levels = models.JSONField(default=list)
    judged_by = models.CharField(max_length=10, default="goal", help_text=_("strand or goal"))
    publisher = models.CharField(max_length=200, blank=True)
    edition = models.CharField(max_length=200, blank=True)
    source = models.CharField(max_length=500, blank=True)
    licence = models.TextField(blank=True)
    draft = models.BooleanField(default=False)
    replaces = models.ForeignKey(
        "self", on_delete=models.CASCADE, null=True, blank=True, related_name="drafts"
    )
    changed_at = models.DateTimeField(default=timezone.now)
    put_away_at = models.DateTimeField(null=True, blank=True)

    objects = FrameworkQuerySet.as_manager()

    class Meta:
        ordering = ["title"]
        constraints = [
            models.UniqueConstraint(
                fields=["slug"], condition=Q(school=None), name="one_shipped_framework_a_slug"
            ),
            models.UniqueConstraint(
                fields=["slug", "school"],
                condition=Q(school__isnull=False, draft=False),
                name="one_own_framework_a_slug",
            ),
            models.CheckConstraint(
                condition=Q(school__isnull=False) | Q(draft=False, put_away_at=None),
                name="what_is_shipped_stays",
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

    def without_kinds(self) -> Self:
        """Goals that no kind of number work is said to show."""
        return self.filter(kinds=[])


class Goal(models.Model):
    """One statement of a framework, with the kinds of number work that give evidence of it."""

    framework = models.ForeignKey(Framework, on_delete=models.CASCADE, related_name="goals")
    code = models.CharField(max_length=60)
    strand = models.CharField(max_length=200)
    text = models.TextField()
    kinds = models.JSONField(default=list)
    asks = models.JSONField(
        default=dict, help_text=_("What work that is to show it has to show: see `Asked`.")
    )
    why = models.TextField(blank=True, help_text=_("Why no number work shows it."))
    note = models.TextField(blank=True)
    identifier = models.CharField(max_length=200, blank=True)
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
        """Return the statement to stand alone: without the stop or semicolon of its list."""
        return self.text.rstrip(" ;.,")

    @property
    def asked(self) -> Asked:
        """Return what work that is to show it has to show."""
        return Asked.read(self.asks)

    @property
    def kind_titles(self) -> list[str]:
        """Return the titles of its kinds, the most direct first."""
        return [kind_kept(kind).title for kind in self.kinds]


class ClassFramework(models.Model):
    """Which goals a class is tagged against. Changing it keeps the tags made before."""

    school_class = models.OneToOneField(
        SchoolClass, on_delete=models.CASCADE, related_name="class_framework"
    )
    framework = models.ForeignKey(Framework, on_delete=models.PROTECT, related_name="classes")

    def __str__(self) -> str:
        return f"{self.school_class}: {self.framework}"
