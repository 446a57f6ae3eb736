"""Judgements: what the teacher decides at the end of a period. The software proposes none."""

from typing import Any, NoReturn, Self

from django.db import models
from django.db.models import F, Q, Window
from django.db.models.functions import RowNumber
from django.utils import timezone
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from assessment.goals.models import Framework
from portal.people.asking import Asker
from portal.people.models import Child, SchoolClass, SchoolYear, StaffPost


class PeriodQuerySet(models.QuerySet["Period"]):
    """Periods, by whose school they belong to."""

    def led_by(self, user: Asker) -> Self:
        """Periods of the schools that *user* leads."""
        if not user.is_active:
            return self.none()
        led = StaffPost.objects.current().filter(user=user, role=StaffPost.Role.LEAD)
        return self.filter(year__school__in=led.values("school"))


class Period(models.Model):
    """A stretch of a school year at whose end judgements are made. Without a name: the whole."""

    year = models.ForeignKey(SchoolYear, on_delete=models.CASCADE, related_name="periods")
    name = models.CharField(_("name"), max_length=60, blank=True)
    ends = models.DateField(_("last day"))

    objects = PeriodQuerySet.as_manager()

    class Meta:
        ordering = ["-ends", "pk"]
        constraints = [
            models.UniqueConstraint(fields=["year", "name"], name="period_name_once_a_year"),
        ]

    def __str__(self) -> str:
        return self.name or gettext("End of the year")


class CannotRewriteError(Exception):
    """A judgement is never rewritten: a change is a new one beside it."""


class JudgementQuerySet(models.QuerySet["Judgement"]):
    """Judgements, by who may read them."""

    def visible_to(self, user: Asker) -> Self:
        """Those on children of classes that *user* judges for: neither assistants nor office."""
        return self.filter(child__school_class__in=SchoolClass.objects.run_by(user))

    def active(self) -> Self:
        """The latest on each child and unit, whoever made it."""
        return self._latest("child", "period", "framework", "unit")

    def standing_by_each(self) -> Self:
        """The latest on each child and unit of each person who judged."""
        return self._latest("child", "period", "framework", "unit", "by")

    def _latest(self, *fields: str) -> Self:
        place = Window(RowNumber(), [F(field) for field in fields], F("version").desc())
        return self.annotate(place=place).filter(place=1)

    def update(self, **values: Any) -> NoReturn:
        """Refuse."""
        raise CannotRewriteError

    def delete(self) -> NoReturn:
        """Refuse."""
        raise CannotRewriteError


class Judgement(models.Model):
    """One decision on one child and one unit: a strand or a goal, as the framework is judged by.

    All versions are kept, and the highest stands. Without a level it takes back the one before.
    A locked one can be followed only by one that unlocks it.
    """

    child = models.ForeignKey(Child, on_delete=models.CASCADE, related_name="judgements")
    period = models.ForeignKey(Period, on_delete=models.PROTECT, related_name="judgements")
    framework = models.ForeignKey(Framework, on_delete=models.PROTECT, related_name="judgements")
    unit = models.CharField(max_length=200)
    version = models.PositiveIntegerField()
    level = models.CharField(_("decision"), max_length=60, blank=True)
    note = models.TextField(_("note"), max_length=1000, blank=True)
    locked = models.BooleanField(default=False)
    by = models.ForeignKey("people.User", on_delete=models.SET_NULL, null=True, related_name="+")
    at = models.DateTimeField(default=timezone.now)

    objects = JudgementQuerySet.as_manager()

    class Meta:
        ordering = ["child", "unit", "version"]
        constraints = [
            models.UniqueConstraint(
                fields=["child", "period", "framework", "unit", "version"],
                name="one_judgement_a_version",
            ),
            models.CheckConstraint(condition=Q(version__gte=1), name="judgement_versions_from_1"),
            models.CheckConstraint(
                condition=Q(locked=False) | ~Q(level=""), name="locked_judgement_has_a_level"
            ),
        ]

    def __str__(self) -> str:
        return f"judgement {self.pk}"

    def save(self, *args: Any, **kwargs: Any) -> None:
        """Add this judgement. Raises CannotRewriteError for one that is there already."""
        if self.pk is not None:
            raise CannotRewriteError
        super().save(*args, **kwargs)

    def delete(self, *args: Any, **kwargs: Any) -> NoReturn:
        """Refuse."""
        raise CannotRewriteError
