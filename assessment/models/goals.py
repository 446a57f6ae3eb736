"""Goals: sets of statements, each with the kinds of number work that give evidence of it."""

from typing import Self

from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from portal.people.models import School, SchoolClass


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
