"""How common each mistake is in a school, as its answers tell. Counts alone: of no child."""

from typing import Self

from django.db import models
from django.utils.translation import gettext_lazy as _

from portal.people.models import School


class MistakeSharesQuerySet(models.QuerySet["MistakeShares"]):
    """Rows, by school; never across schools."""

    def of_school(self, school: School) -> Self:
        """Return the rows of one school."""
        return self.filter(school=school)


class MistakeShares(models.Model):
    """What was found for one kind of work in one school. May be made again at any time.

    `shares`: for each thing its name, whether it is a mistake, and `Share` as four numbers.
    """

    school = models.ForeignKey(School, on_delete=models.CASCADE, related_name="+")
    kind = models.CharField(max_length=60)
    sets = models.PositiveIntegerField(help_text=_("From how many answered tasks."))
    shares = models.JSONField(default=list)
    reckoned_at = models.DateTimeField()

    objects = MistakeSharesQuerySet.as_manager()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["school", "kind"], name="shares_once_a_kind"),
        ]

    def __str__(self) -> str:
        return f"mistakes of {self.kind} in school {self.school_id}"
