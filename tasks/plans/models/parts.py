"""The parts of a day, each with its prompts."""

from typing import Any, Self

from django.core.exceptions import ValidationError
from django.db import models
from django.db.models import Exists, OuterRef, Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from portal.people.asking import Asker
from portal.people.models import Child, Group
from tasks.numberwork import EVERY_KIND, Prompt, kind_kept, prompt_kept, prompt_to_json
from tasks.numberwork.prompt import OWN
from tasks.plans.models.day_plans import ENOUGH, DayPlan


class TaskQuerySet(models.QuerySet["Task"]):
    """Tasks, by who may see them and who they are for."""

    def visible_to(self, user: Asker) -> Self:
        """Tasks of the day plans *user* may see, whichever group they are for."""
        return self.filter(day_plan__in=DayPlan.objects.visible_to(user))

    def run_by(self, user: Asker) -> Self:
        """Tasks that *user* may change."""
        return self.filter(day_plan__in=DayPlan.objects.run_by(user))

    def for_child(self, child: Child) -> Self:
        """What *child* is set: the task of one of its groups in place of the class's own.

        Of two groups with a task for the same part, the one made first counts.
        """
        return self._for_groups(child.groups.values("pk"))

    def for_group(self, group: Group | None) -> Self:
        """What a child of *group* is set, or with None a child who is in no group."""
        return self._for_groups([group.pk] if group else [])

    def _for_groups(self, groups: Any) -> Self:
        same_part = self.model.objects.filter(day_plan=OuterRef("day_plan"), part=OuterRef("part"))
        special = same_part.filter(group__in=groups)
        earlier = special.filter(pk__lt=OuterRef("pk"))
        return self.filter(
            Q(group=None) & ~Exists(special) | Q(group__in=groups) & ~Exists(earlier)
        )

    def with_frozen(self) -> Self:
        """Say of each task, as `frozen`, whether work was sent that its prompts must stay for.

        A photo may show any part of the day, so all that was drawn before it counts, answered
        or not.
        """
        answered = self.model.objects.filter(pk=OuterRef("pk"), prompts__answers__isnull=False)
        sent = DayPlan.objects.filter(
            pk=OuterRef("day_plan"),
            submissions__withdrawn_at=None,
            submissions__sent_at__gte=OuterRef("drawn_at"),
        )
        return self.annotate(frozen=Exists(answered) | Exists(sent))


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
    count = models.PositiveSmallIntegerField()  # drawn ones; a teacher's own stand beside them
    seed = models.BigIntegerField()
    number = models.PositiveSmallIntegerField(
        null=True, blank=True, help_text=_("The number of the day, where the teacher chose one.")
    )
    depth = models.CharField(max_length=12, choices=Group.Depth, default=Group.Depth.CORE)
    only = models.JSONField(default=dict, blank=True)  # which of the kind's questions: see `Only`
    words = models.TextField(_("what to do"), max_length=1000, blank=True)
    fetch = models.CharField(_("what to fetch"), max_length=300, blank=True)
    say = models.CharField(_("what to say"), max_length=300, blank=True)
    caution = models.CharField(_("caution"), max_length=300, blank=True)
    locked = models.BooleanField(default=False)
    drawn_at = models.DateTimeField(default=timezone.now)

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
        ]

    def __str__(self) -> str:
        return f"{self.get_part_display()}: {self.kind}"

    def clean(self) -> None:
        if self.kind not in EVERY_KIND:
            raise ValidationError(_("There is no such kind of number work."))

    @property
    def title(self) -> str:
        """Return the title of its kind."""
        return kind_kept(self.kind).title

    @property
    def position(self) -> int:
        """Return the place of this part among the steps of its day, from 0."""
        return self.day_plan.steps.index(self.part)

    @property
    def is_main(self) -> bool:
        """Whether it is the main part of its day."""
        return self.part == self.day_plan.main_part

    @property
    def is_more(self) -> bool:
        """Whether it stands after what is enough for the day."""
        return self.position > self.day_plan.steps.index(ENOUGH)

    @property
    def is_together(self) -> bool:
        """Whether it is done aloud or by showing, and nobody types an answer."""
        return kind_kept(self.kind).together


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
        """Return the unsaved row that holds *prompt*."""
        return cls(
            task=task,
            position=position,
            sentence=prompt.sentence,
            spoken=prompt.spoken,
            data=prompt_to_json(prompt),
        )

    @property
    def key(self) -> str:
        """Return the key of the prompt, as `Prompt.key` does, without reading it all."""
        return "/".join(str(self.kept(name)) for name in ("kind", "fact", "form"))

    @property
    def dress(self) -> str:
        """Return what the prompt looks like, as `dress_of` does, without reading it all."""
        return f"{self.key}@{self.kept('depth')}"

    @property
    def fact(self) -> str:
        """Return its fact as "kind/fact", without reading it all."""
        return f"{self.kept('kind')}/{self.kept('fact')}"

    @property
    def prompt(self) -> Prompt:
        """Return the prompt itself, with its picture, answer and mistakes."""
        return prompt_kept(self.data, self.sentence, self.spoken)

    @property
    def is_own(self) -> bool:
        """Whether the teacher wrote it herself."""
        return bool(self.kept("kind") == OWN)

    @property
    def choices(self) -> list[str]:
        """Return the words, signs or letters to choose from, without reading it all."""
        return self.kept("choices") or []

    def kept(self, name: str) -> Any:
        """Return one value of what is kept of the prompt; "" where there is none."""
        return self.data.get(name, "")
