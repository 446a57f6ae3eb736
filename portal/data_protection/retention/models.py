"""How long a school keeps what, the nights on which that was seen to, and who has left."""

import datetime as dt
from typing import Self

from django.db import models
from django.db.models import Q
from django.utils import timezone

from portal.jobs.lease import Leased, LeasedQuerySet
from portal.people.models import Child, School


class RetentionRule(models.Model):
    """How many days a school keeps one kind of thing, where it chose other than is usual."""

    school = models.ForeignKey(School, on_delete=models.CASCADE, related_name="keeping_rules")
    kind = models.CharField(max_length=30)
    days = models.PositiveSmallIntegerField()

    class Meta:
        db_table = "privacy_keepingrule"
        constraints = [
            models.UniqueConstraint(fields=["school", "kind"], name="one_rule_a_kind"),
            models.CheckConstraint(condition=Q(days__gte=1), name="a_rule_keeps_for_a_day"),
        ]

    def __str__(self) -> str:
        return f"{self.kind}: {self.days} days"


class PurgeRunQuerySet(LeasedQuerySet["PurgeRun"]):
    """Nights of schools, and whether their work is done."""

    def claim(self, school: School, date: dt.date) -> "PurgeRun | None":
        """Take the work of the night to *date* at *school*; None: it is done, or in other hands."""
        night, _new = self.get_or_create(school=school, date=date)
        return self.unleased().filter(done_at=None).take(night.pk)

    def finish(self, night: "PurgeRun", deleted: dict[str, int]) -> None:
        """Note that all of *night* is done, and what was *deleted*."""
        done = {"deleted": deleted, "done_at": timezone.now(), "leased_until": None}
        self.held(night).update(**done)


class PurgeRun(Leased):
    """One night at one school, and how many things of each kind were deleted in it."""

    school = models.ForeignKey(School, on_delete=models.CASCADE, related_name="nights")
    date = models.DateField()
    done_at = models.DateTimeField(null=True, blank=True)
    deleted = models.JSONField(default=dict)

    objects = PurgeRunQuerySet.as_manager()

    class Meta:
        db_table = "privacy_night"
        ordering = ["-date"]
        constraints = [
            models.UniqueConstraint(fields=["school", "date"], name="one_night_a_date"),
        ]

    def __str__(self) -> str:
        return f"night to {self.date}"


class Leaver(models.Model):
    """A child who was found to be in no class, or in one whose year is over, and since when."""

    child = models.OneToOneField(Child, on_delete=models.CASCADE, related_name="left")
    since = models.DateField()

    def __str__(self) -> str:
        return f"child {self.child_id} since {self.since}"

    @classmethod
    def note(cls, school: School, today: dt.date) -> None:
        """Note who of *school* has left by *today*, and forget it of those who are back."""
        gone = Q(school_class=None) | Q(school_class__year__ends__lt=today)
        children = Child.objects.filter(school=school)
        cls.objects.filter(child__in=children.exclude(gone)).delete()
        new = children.filter(gone, left=None).select_related("school_class__year")
        cls.objects.bulk_create(
            [cls(child=child, since=cls.day_of_leaving(child, today)) for child in new],
            ignore_conflicts=True,
        )

    @staticmethod
    def day_of_leaving(child: Child, today: dt.date) -> dt.date:
        """Return the last day of the child's year; for one without a class, *today*."""
        return child.school_class.year.ends if child.school_class else today

    @classmethod
    def of(cls, child: Child) -> Self | None:
        """Return the note about *child*, if there is one."""
        return cls.objects.filter(child=child).first()
