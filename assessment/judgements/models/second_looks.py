"""Second looks: a sample of what was looked at, tagged again by somebody who does not see how."""

from typing import Self

from django.db import models
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from assessment.goals.models import Framework, Goal
from assessment.looks.models.looks import Tag
from evidence.models import Submission
from portal.people.asking import Asker
from portal.people.models import SchoolClass, StaffPost


class SampleQuerySet(models.QuerySet["Sample"]):
    """Samples, by who set them and who looks."""

    def led_by(self, user: Asker) -> Self:
        """Samples of the schools that *user* leads."""
        if not user.is_active:
            return self.none()
        led = StaffPost.objects.current().filter(user=user, role=StaffPost.Role.LEAD)
        return self.filter(school_class__year__school__in=led.values("school"))

    def looked_through_by(self, user: Asker) -> Self:
        """Samples that *user* is asked to look through, of classes whose work *user* sees."""
        return self.filter(second=user, school_class__in=SchoolClass.objects.taught_by(user))


class Sample(models.Model):
    """Some looked-at work of one class, for one member of staff to tag again."""

    school_class = models.ForeignKey(SchoolClass, on_delete=models.CASCADE, related_name="samples")
    framework = models.ForeignKey(Framework, on_delete=models.PROTECT, related_name="samples")
    second = models.ForeignKey(
        "people.User", on_delete=models.CASCADE, related_name="samples", verbose_name=_("who looks")
    )
    made_by = models.ForeignKey(
        "people.User", on_delete=models.SET_NULL, null=True, related_name="+"
    )
    made_at = models.DateTimeField(default=timezone.now)

    objects = SampleQuerySet.as_manager()

    class Meta:
        ordering = ["-made_at", "-pk"]

    def __str__(self) -> str:
        return f"sample {self.pk}"


class SampledPiece(models.Model):
    """One submission of a sample. `first` holds the first looker's tags as they were then."""

    sample = models.ForeignKey(Sample, on_delete=models.CASCADE, related_name="pieces")
    submission = models.ForeignKey(Submission, on_delete=models.CASCADE, related_name="+")
    position = models.PositiveSmallIntegerField()
    first = models.JSONField(help_text=_("How each goal was shown, by the goal's key."))
    looked_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["sample", "position"]
        constraints = [
            models.UniqueConstraint(fields=["sample", "submission"], name="sampled_once"),
            models.UniqueConstraint(fields=["sample", "position"], name="one_piece_a_position"),
        ]

    def __str__(self) -> str:
        return f"sampled piece {self.pk}"


class SecondTag(models.Model):
    """How the second looker saw one goal shown. It is no evidence, and counts nowhere else."""

    piece = models.ForeignKey(SampledPiece, on_delete=models.CASCADE, related_name="tags")
    goal = models.ForeignKey(Goal, on_delete=models.PROTECT, related_name="+")
    how = models.CharField(_("how shown"), max_length=20, choices=Tag.How)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["piece", "goal"], name="one_second_tag_a_goal"),
        ]

    def __str__(self) -> str:
        return f"second tag {self.pk}"
