"""What is set: sequences of days, the plan of each day, its tasks, and the prompts of each."""

from tasks.models.day_plans import DayPlan, DayPlanQuerySet
from tasks.models.parts import Task, TaskPrompt, TaskQuerySet
from tasks.models.sequences import Sequence, SequenceQuerySet

__all__ = [
    "DayPlan",
    "DayPlanQuerySet",
    "Sequence",
    "SequenceQuerySet",
    "Task",
    "TaskPrompt",
    "TaskQuerySet",
]
