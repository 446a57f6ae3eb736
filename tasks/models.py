"""What is set: a plan for a class on a day, its tasks, and the prompts of each."""

from typing import Any, Self

from django.core.exceptions import ValidationError
from django.db import models
from django.db.models import Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from portal.people.models import Child, Group, SchoolClass
from tasks.numberwork import KINDS, Prompt, prompt_from_json, prompt_to_json


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


class DayPlan(models.Model):
    """What is set for one class on one date. Without a time to go out it is a draft."""

    school_class = models.ForeignKey(
        SchoolClass, on_delete=models.PROTECT, related_name="day_plans"
    )
    date = models.DateField(_("date"))
    focus = models.CharField(_("focus"), max_length=60, blank=True)
    note = models.TextField(_("a word to families"), max_length=1000, blank=True)
    goes_out_at = models.DateTimeField(_("goes out at"), null=True, blank=True)
    version = models.PositiveIntegerField(default=1)
    made_by = models.ForeignKey(
        "people.User", on_delete=models.SET_NULL, null=True, related_name="+"
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


class TaskQuerySet(models.QuerySet["Task"]):
    """Tasks, by who may see them and whom they are for."""

    def visible_to(self, user: Any) -> Self:
        """Tasks of the day plans *user* may see, whichever group they are for."""
        return self.filter(day_plan__in=DayPlan.objects.visible_to(user))

    def for_child(self, child: Child) -> Self:
        """What *child* is set: the task of one of its groups in place of the class's own."""
        groups = child.groups.all()
        special = self.filter(group__in=groups)
        general = self.filter(group=None).exclude(
            Q(part__in=special.values("part")) & Q(day_plan__in=special.values("day_plan"))
        )
        return self.filter(Q(pk__in=special.values("pk")) | Q(pk__in=general.values("pk")))


class Task(models.Model):
    """One part of a day plan, for the whole class or for one group."""

    class Part(models.TextChoices):
        WARM_UP = "warm_up", _("warm-up count")
        NUMBER_OF_THE_DAY = "number_of_the_day", _("number of the day")
        QUICK_RECALL = "quick_recall", _("quick recall")
        MAIN_TASK = "main_task", _("main task")
        TRY_AT_HOME = "try_at_home", _("try at home")

    day_plan = models.ForeignKey(DayPlan, on_delete=models.CASCADE, related_name="tasks")
    part = models.CharField(max_length=20, choices=Part)
    group = models.ForeignKey(
        Group, on_delete=models.CASCADE, null=True, blank=True, related_name="tasks"
    )
    kind = models.CharField(max_length=40)
    within = models.PositiveSmallIntegerField()
    count = models.PositiveSmallIntegerField()
    seed = models.BigIntegerField()
    depth = models.CharField(max_length=12, choices=Group.Depth, default=Group.Depth.CORE)
    words = models.TextField(_("what to do"), max_length=1000, blank=True)
    fetch = models.CharField(_("what to fetch"), max_length=300, blank=True)
    say = models.CharField(_("what to say"), max_length=300, blank=True)
    caution = models.CharField(_("caution"), max_length=300, blank=True)
    locked = models.BooleanField(default=False)

    objects = TaskQuerySet.as_manager()

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["day_plan", "part"], condition=Q(group=None), name="one_class_task_a_part"
            ),
            models.UniqueConstraint(
                fields=["day_plan", "part", "group"],
                condition=Q(group__isnull=False),
                name="one_group_task_a_part",
            ),
            models.CheckConstraint(condition=Q(count__gte=1), name="a_task_has_prompts"),
        ]

    def __str__(self) -> str:
        return f"{self.get_part_display()}: {self.kind}"

    def clean(self) -> None:
        if self.kind not in KINDS:
            raise ValidationError({"kind": _("There is no such kind of number work.")})

    @property
    def position(self) -> int:
        """Give the place of this part in the day, from 0."""
        return self.Part.values.index(self.part)


class TaskPrompt(models.Model):
    """One prompt as it was set. Kept whole, so that old work stays as families saw it."""

    task = models.ForeignKey(Task, on_delete=models.CASCADE, related_name="prompts")
    position = models.PositiveSmallIntegerField()
    sentence = models.CharField(max_length=300)
    spoken = models.CharField(max_length=500)
    data = models.JSONField()

    class Meta:
        ordering = ["task", "position"]
        constraints = [
            models.UniqueConstraint(fields=["task", "position"], name="one_prompt_a_position"),
        ]

    def __str__(self) -> str:
        return self.sentence

    @classmethod
    def of(cls, task: Task, position: int, prompt: Prompt) -> "TaskPrompt":
        """Give the unsaved row that holds *prompt*."""
        return cls(
            task=task,
            position=position,
            sentence=prompt.sentence,
            spoken=prompt.spoken,
            data=prompt_to_json(prompt),
        )

    @property
    def prompt(self) -> Prompt:
        """Give the prompt itself, with its picture, answer and mistakes."""
        return prompt_from_json(self.data)
