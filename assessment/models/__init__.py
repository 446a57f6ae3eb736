"""What staff make of the work: goals, looks, tags, and the week rolled up."""

from assessment.models.goals import ClassFramework, Framework, Goal
from assessment.models.looks import Look, PastLook, Tag, TagQuerySet
from assessment.models.weeks import SummaryMail, WeekSummary

__all__ = [
    "ClassFramework",
    "Framework",
    "Goal",
    "Look",
    "PastLook",
    "SummaryMail",
    "Tag",
    "TagQuerySet",
    "WeekSummary",
]
