"""One leaf of what a child did: the work, what the teacher said, what it shows, and its neighbours.

Newest first, from one home alone. What a family reads of a tag is what the kind of work practises,
where the child did it alone or in a new situation; never which goal, nor what is not there yet.
"""

from dataclasses import dataclass

from django.db.models import Q

from assessment.models import Goal, Look, Tag
from assessment.progress.work_set.kinds_shown import KindsShown
from evidence.models import Submission, SubmissionQuerySet
from portal.people.asking import Asker
from portal.people.models import Child
from tasks.numberwork import kind_kept

SHOWN = (Tag.How.INDEPENDENTLY, Tag.How.NEW_SITUATION)
SAID_AT_MOST = 2


@dataclass(frozen=True)
class Leaf:
    """One submission as a leaf.

    back, on: the tokens of the next newer and the next older one; "" where there is none.
    """

    work: Submission
    can_do: list[str]
    back: str
    on: str


def leaves_of(user: Asker, child: Child) -> SubmissionQuerySet:
    """Return what the home of *user* sent for *child*, newest first."""
    return Submission.objects.from_home_of(user).active().filter(child=child)


def first_leaf(user: Asker, child: Child) -> str:
    """Return the token of the newest leaf of *child*; "" where there is none."""
    return leaves_of(user, child).values_list("token", flat=True).first() or ""


def leaf_of(user: Asker, work: Submission) -> Leaf:
    """Read *work*, fetched with all that a leaf shows, as one leaf."""
    tokens = leaves_of(user, work.child).values_list("token", flat=True)
    at = {"sent_at": work.sent_at}
    newer = tokens.filter(Q(sent_at__gt=work.sent_at) | Q(**at, pk__gt=work.pk))
    older = tokens.filter(Q(sent_at__lt=work.sent_at) | Q(**at, pk__lt=work.pk))
    return Leaf(work, can_do(work), newer.last() or "", older.first() or "")


def tags_told(work: Submission) -> list[tuple[Goal, str]]:
    """Return the tags of *work*, for a moment after a change as they were before."""
    if not work.is_answered or not hasattr(work, "look"):
        return []
    read = work.look.for_family
    if isinstance(read, Look):
        return [(tag.goal, tag.how) for tag in work.tags.all()]
    before = {goal: how for goal, how, *_whose in read.tags}
    goals = Goal.objects.filter(pk__in=before).order_by("position")
    return [(goal, before[goal.pk]) for goal in goals]


def can_do(work: Submission) -> list[str]:
    """Say in the plain words of its card what *work* shows that the child can do; often nothing."""
    goals = [goal for goal, how in tags_told(work) if how in SHOWN]
    if not goals:
        return []
    kinds = KindsShown([work.day_plan_id], [work.child])
    best = ((kinds.kind(work.child_id, work.day_plan_id, goal.kinds), goal) for goal in goals)
    named = dict.fromkeys(kind for kind, goal in best if kind in goal.kinds)
    return [kind_kept(kind).practises for kind in named][:SAID_AT_MOST]
