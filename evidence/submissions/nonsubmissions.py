"""'We could not do it today': what a home may say in place of work. It is evidence of nothing."""

from typing import Self

from django.db import models
from django.db.models import Exists, OuterRef
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from evidence.submissions.models import Submission
from portal.people.asking import Asker
from portal.people.models import Child, Guardianship, Home
from tasks.models import DayPlan


class NonsubmissionQuerySet(models.QuerySet["Nonsubmission"]):
    """Such words, by who may read them. Views start from these, never from `all()`."""

    def taught_by(self, user: Asker) -> Self:
        """Those about children whom *user* teaches."""
        return self.filter(child__in=Child.objects.taught_by(user))

    def from_home_of(self, user: Asker) -> Self:
        """Those said in the home in which *user* lives with the child."""
        return self.filter(Exists(Guardianship.objects.that_let_see(user)))

    def active(self) -> Self:
        """Those that no work from the same home for the same day has overtaken."""
        work = Submission.objects.active().filter(
            child=OuterRef("child"), home=OuterRef("home"), day_plan=OuterRef("day_plan")
        )
        return self.filter(~Exists(work))


class Nonsubmission(models.Model):
    """One home says that a child's work of one day could not be done, and may say why."""

    child = models.ForeignKey(Child, on_delete=models.CASCADE, related_name="could_nots")
    home = models.ForeignKey(Home, on_delete=models.CASCADE, related_name="could_nots")
    day_plan = models.ForeignKey(DayPlan, on_delete=models.CASCADE, related_name="could_nots")
    said_by = models.ForeignKey(
        "people.User", on_delete=models.SET_NULL, null=True, related_name="+"
    )
    said_at = models.DateTimeField(default=timezone.now)
    reason = models.CharField(_("a few words, if you like"), max_length=200, blank=True)

    objects = NonsubmissionQuerySet.as_manager()

    class Meta:
        db_table = "evidence_couldnot"
        ordering = ["-said_at", "-pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["child", "home", "day_plan"], name="could_not_once_a_home_and_day"
            ),
        ]
        indexes = [models.Index(fields=["child", "-said_at"], name="could_not_of_child")]

    def __str__(self) -> str:
        return f"could not {self.pk}"
