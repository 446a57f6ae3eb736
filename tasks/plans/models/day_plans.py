"""What is set for a class on a day."""

import datetime as dt
from typing import Self

from django.db import models
from django.db.models import Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from portal.people.asking import Asker
from portal.people.models import Child, SchoolClass

ENOUGH = "enough"
# The parts of a day by name, and after which of them it is enough for today: that is the main one.
USUAL_ORDER = ("warm_up", "main_task", ENOUGH, "number_of_the_day", "quick_recall", "try_at_home")
USUAL_MINUTES = 12  # ten, and a little to spare (common practice, no source)


class DayPlanQuerySet(models.QuerySet["DayPlan"]):
    """Day plans, by who may see them and whether they have gone out."""

    def out(self) -> Self:
        """Plans that families may see by now."""
        return self.filter(goes_out_at__lte=timezone.now())

    def taught_by(self, user: Asker) -> Self:
        """Plans of the classes that *user* works with."""
        return self.filter(school_class__in=SchoolClass.objects.taught_by(user))

    def run_by(self, user: Asker) -> Self:
        """Plans that *user* may change."""
        return self.filter(school_class__in=SchoolClass.objects.run_by(user))

    def visible_to(self, user: Asker) -> Self:
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
    order = models.CharField(
        max_length=100,
        blank=True,
        help_text=_("The parts in order, with “enough” after the main one; empty for the usual."),
    )
    most_minutes = models.PositiveSmallIntegerField(default=USUAL_MINUTES)
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
    def steps(self) -> list[str]:
        """Return the parts in the order of this day, with ENOUGH among them.

        What a row does not name, or names that this program does not know, is as usual.
        """
        told = [name for name in dict.fromkeys(self.order.split()) if name in USUAL_ORDER]
        if ENOUGH not in told[1:]:
            return list(USUAL_ORDER)
        return [*told, *(name for name in USUAL_ORDER if name not in told)]

    @property
    def main_part(self) -> str:
        """Return the part after which it is enough for today."""
        return self.steps[self.steps.index(ENOUGH) - 1]

    @property
    def is_out(self) -> bool:
        """Whether families may see this plan by now."""
        return self.goes_out_at is not None and self.goes_out_at <= timezone.now()

    @property
    def has_work(self) -> bool:
        """Whether families sent work for this day that they did not withdraw."""
        return DayPlan.objects.with_work().filter(pk=self.pk).exists()
