"""What is set: sequences of days, the plan of each day, its tasks, and the prompts of each."""

from tasks.plans.models.day_plans import DayPlan, DayPlanQuerySet
from tasks.plans.models.own_prompts import OwnPrompt, OwnPromptQuerySet
from tasks.plans.models.parts import Task, TaskPrompt, TaskQuerySet
from tasks.sequences.models import Sequence, SequenceQuerySet

__all__ = [
    "DayPlan",
    "DayPlanQuerySet",
    "OwnPrompt",
    "OwnPromptQuerySet",
    "Sequence",
    "SequenceQuerySet",
    "Task",
    "TaskPrompt",
    "TaskQuerySet",
]
