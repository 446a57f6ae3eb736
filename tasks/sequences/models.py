"""A run of days on one focus."""

from typing import Self

from django.db import models
from django.db.models import Exists, F, OuterRef, Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from portal.people.asking import Asker
from portal.people.models import School, SchoolClass
from tasks.numberwork import kind_kept
from tasks.plans.models.day_plans import DayPlan


class SequenceQuerySet(models.QuerySet["Sequence"]):
    """Sequences, by who may see them. They hold kinds and dates, and nothing about children."""

    def taught_by(self, user: Asker) -> Self:
        """Sequences of the classes that *user* works with."""
        return self.filter(school_class__in=SchoolClass.objects.taught_by(user))

    def run_by(self, user: Asker) -> Self:
        """Sequences that *user* may change."""
        return self.filter(school_class__in=SchoolClass.objects.run_by(user))

    def of_school(self, school: School) -> Self:
        """Sequences of every class and year of *school*, to learn from and to copy."""
        return self.filter(school_class__year__school=school)

    def with_days(self) -> Self:
        """Those with a day left: not thrown away whole. Latest first."""
        days = DayPlan.objects.filter(sequence=OuterRef("pk"), tasks__isnull=False)
        return self.filter(Exists(days)).order_by("-first", "-pk")


class Sequence(models.Model):
    """Several days that were drafted together, one small step after another.

    version counts every change of the sequence or of a day in it.
    """

    school_class = models.ForeignKey(
        SchoolClass, on_delete=models.CASCADE, related_name="sequences"
    )
    focus = models.CharField(_("focus"), max_length=40)
    within = models.PositiveSmallIntegerField()
    first = models.DateField(_("first day"))
    last = models.DateField(_("last day"))
    seed = models.BigIntegerField()
    known = models.JSONField(default=list, help_text=_("Kinds the class had met before."))
    version = models.PositiveIntegerField(default=1)
    made_by = models.ForeignKey(
        "people.User", on_delete=models.SET_NULL, null=True, related_name="+"
    )
    made_at = models.DateTimeField(default=timezone.now)
    thrown_away = models.JSONField(
        null=True, blank=True, help_text=_("The days thrown away by the last change, to put back.")
    )

    objects = SequenceQuerySet.as_manager()

    class Meta:
        ordering = ["-first", "-pk"]
        indexes = [models.Index(fields=["school_class", "first"], name="sequence_of_class")]
        constraints = [
            models.CheckConstraint(condition=Q(last__gte=F("first")), name="sequence_in_order"),
        ]

    def __str__(self) -> str:
        return f"{self.title} {self.first}"

    @property
    def title(self) -> str:
        """Return the title of its focus."""
        return kind_kept(self.focus).title
