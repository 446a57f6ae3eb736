"""Suggesting how a goal was shown, with the reason. The teacher decides, and may have seen more."""

from collections.abc import Iterable
from dataclasses import dataclass

from django.utils.translation import gettext as _

from assessment.looks.marking import MarkedTask
from assessment.models import Goal, Tag
from evidence.models import Submission

MOSTLY = 3 / 4


@dataclass(frozen=True)
class SuggestedTag:
    """How a goal may have been shown, and the plain facts that say so."""

    how: str
    reason: str

    @property
    def words(self) -> str:
        """Say how shown, as staff read it."""
        return str(Tag.How(self.how).label)


def suggest_tag(
    goal: Goal, marked: Iterable[MarkedTask], submission: Submission
) -> SuggestedTag | None:
    """Suggest how *submission* shows *goal*, from typed answers of its kinds and the help given.

    Mostly right (three in four) and alone: independently. Mostly right with help, or half
    right: with support. Less: not yet. Without typed answers, or where a family did not say
    how much it helped with right answers: nothing. Common practice, no source.
    """
    answers = [one for task in marked if task.task.kind in goal.kinds for one in task.answered]
    if not answers:
        return None
    right = sum(bool(one.right) for one in answers)
    how = _how(right / len(answers), submission.help)
    if how is None:
        return None
    said = submission.get_help_display() if submission.help else _("help not said")
    count = _("%(right)s of %(all)s right") % {"right": right, "all": len(answers)}
    return SuggestedTag(how, f"{count}, {said}")


def _how(share: float, help_given: str) -> str | None:
    if share < 1 / 2:
        return Tag.How.NOT_YET
    if share < MOSTLY:
        return Tag.How.WITH_SUPPORT
    if not help_given:
        return None
    alone = help_given == Submission.Help.ALONE
    return Tag.How.INDEPENDENTLY if alone else Tag.How.WITH_SUPPORT
