"""What is set for a class on a day."""

import datetime as dt
from typing import Any, Self

from django.db import models
from django.db.models import Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from portal.people.models import Child, SchoolClass


class DayPlanQuerySet(models.QuerySet["DayPlan"]):
    """Day plans, by who may see them and whether they have gone out."""

    def out(self) -> Self:
        """Plans that families may see by now."""
        return self.filter(goes_out_at__lte=timezone.now())

    def taught_by(self, user: Any) -> Self:
        """Plans of the classes that *user* works with."""
        return self.filter(school_class__in=SchoolClass.objects.taught_by(user))

    def run_by(self, user: Any) -> Self:
        """Plans that *user* may change."""
        return self.filter(school_class__in=SchoolClass.objects.run_by(user))

    def visible_to(self, user: Any) -> Self:
        """Plans of classes taught; and for adults at home those of the child's class, once out."""
        own = Child.objects.at_home_with(user).values("school_class")
        at_home = Q(school_class__in=own, goes_out_at__lte=timezone.now())
        return self.filter(Q(pk__in=self.model.objects.taught_by(user).values("pk")) | at_home)

    def out_for(self, child: Child) -> Self:
        """Plans that went out to the class of *child*, latest day first."""
        return self.out().filter(school_class=child.school_class_id).order_by("-date")

    def between(self, first: dt.date, last: dt.date) -> Self:
        """Plans for the days from *first* to *last*, both included."""
        return self.filter(date__range=(first, last))

    def with_parts_before(self, day: dt.date) -> Self:
        """Plans for days before *day* that have parts for the whole class, latest first."""
        whole_class = self.filter(date__lt=day, tasks__isnull=False, tasks__group=None)
        return whole_class.distinct().order_by("-date")

    def planned(self) -> Self:
        """Plans that have any parts, in the order of days."""
        return self.filter(tasks__isnull=False).distinct().order_by("date")

    def drafts(self) -> Self:
        """Plans that were not set yet."""
        return self.filter(goes_out_at=None)

    def with_work(self) -> Self:
        """Plans for which families sent work that they did not withdraw.

        Submissions are known here by the name of their relation only: they stand further up.
        """
        return self.filter(submissions__isnull=False, submissions__withdrawn_at=None).distinct()


class DayPlan(models.Model):
    """What is set for one class on one date. Without a time to go out it is a draft."""

    school_class = models.ForeignKey(
        SchoolClass, on_delete=models.PROTECT, related_name="day_plans"
    )
    date = models.DateField(_("date"))
    focus = models.CharField(_("focus"), max_length=60, blank=True)
    note = models.TextField(_("a word to families"), max_length=1000, blank=True)
    goes_out_at = models.DateTimeField(_("goes out at"), null=True, blank=True)
    sequence = models.ForeignKey(
        "tasks.Sequence",
        on_delete=models.SET_NULL,
        null=True,
        blank=True,
        related_name="day_plans",
    )
    version = models.PositiveIntegerField(default=1)
    made_by = models.ForeignKey(
        "people.User", on_delete=models.SET_NULL, null=True, related_name="+"
    )
    changed_by = models.ForeignKey(
        "people.User", on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    changed_at = models.DateTimeField(null=True, blank=True)
    taken_out = models.JSONField(
        null=True, blank=True, help_text=_("The part removed by the last change, to put back.")
    )

    objects = DayPlanQuerySet.as_manager()

    class Meta:
        ordering = ["date"]
        constraints = [
            models.UniqueConstraint(fields=["school_class", "date"], name="one_plan_a_day"),
        ]

    def __str__(self) -> str:
        return f"{self.school_class} {self.date}"

    @property
    def is_out(self) -> bool:
        """Whether families may see this plan by now."""
        return self.goes_out_at is not None and self.goes_out_at <= timezone.now()

    @property
    def has_work(self) -> bool:
        """Whether families sent work for this day that they did not withdraw."""
        return DayPlan.objects.with_work().filter(pk=self.pk).exists()
