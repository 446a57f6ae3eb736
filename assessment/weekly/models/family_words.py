"""What a teacher says to families beside the week's summary."""

from django.db import models
from django.db.models import Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from portal.people.models import Child, SchoolClass


class FamilyWord(models.Model):
    """A word for a week: to all families of a class, or with a child to that child's alone.

    Families read it once the week is summed up. Of a class there is always one by then: what
    nobody touched goes out as it was drafted, `by` nobody.
    """

    school_class = models.ForeignKey(
        SchoolClass, on_delete=models.CASCADE, related_name="family_words"
    )
    week = models.DateField(help_text=_("The Monday it starts on."))
    child = models.ForeignKey(
        Child, on_delete=models.CASCADE, null=True, blank=True, related_name="family_words"
    )
    text = models.TextField(max_length=1000, blank=True)
    version = models.PositiveIntegerField(default=1)
    by = models.ForeignKey("people.User", on_delete=models.SET_NULL, null=True, related_name="+")
    at = models.DateTimeField(default=timezone.now)

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["school_class", "week"],
                condition=Q(child=None),
                name="one_word_a_class_and_week",
            ),
            models.UniqueConstraint(
                fields=["child", "week"],
                condition=Q(child__isnull=False),
                name="one_word_a_child_and_week",
            ),
            models.CheckConstraint(
                condition=Q(week__iso_week_day=1), name="word_week_starts_on_monday"
            ),
        ]

    def __str__(self) -> str:
        return f"word {self.pk}"
