"""A child's week for one family: what was set and sent, the replies, what comes next. No tags."""

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from assessment.day_parts import PartOfDay, groups_of, parts_for
from assessment.insight.weeks import Week
from assessment.looks.queue import with_answer_count
from assessment.models import Look
from assessment.weekly.family_words import released
from assessment.weekly.overview import DayAtAGlance, closed_days, glance
from evidence.models import Submission, SubmissionQuerySet
from evidence.submissions.nonsubmissions import NonsubmissionQuerySet
from portal.people.models import Child
from tasks.models import DayPlan, DayPlanQuerySet


@dataclass(frozen=True)
class DayAtHome:
    """One day on which work was set: its parts, and what this home sent for it.

    could_not: whether the home said that it could not be done.
    """

    plan: DayPlan
    parts: list[PartOfDay]
    sent: list[Submission]
    could_not: bool = False


@dataclass(frozen=True)
class FamilyWeek:
    """One child's week at one home. `replies` are looks that stand, oldest first.

    words: what the teacher says to families, once the week is summed up; each with its language,
    "" for the page's.
    glance: each school day of the week, and how far it is.
    """

    child: Child
    days: list[DayAtHome]
    replies: list[Look]
    coming: DayPlan | None
    words: list[tuple[str, str]]
    glance: list[DayAtAGlance]

    @property
    def days_sent(self) -> int:
        """Return for how many of the days something was sent."""
        return sum(bool(day.sent) for day in self.days)


def family_weeks(
    children: Iterable[Child], own: SubmissionQuerySet, week: Week, said: NonsubmissionQuerySet
) -> list[FamilyWeek]:
    """Gather *week* of *children*, in a few queries.

    own: what the home sent. said: the days of which it said that they could not be done.
    """
    known = list(children)
    classes = {child.school_class_id for child in known}
    plans = list(plans_in(classes, week).prefetch_related("tasks"))
    sent = sent_for(known, plans, own)
    words = released(known, week)
    groups = groups_of(known)
    could_not = set(said.active().filter(child__in=known).values_list("child", "day_plan"))
    coming = coming_plans(classes, week)
    closures = closed_days(known, week)
    days = {
        child.pk: [
            DayAtHome(
                plan,
                parts_for(plan, groups[child.pk]),
                sent[child.pk, plan.pk],
                (child.pk, plan.pk) in could_not,
            )
            for plan in plans
            if plan.school_class_id == child.school_class_id
        ]
        for child in known
    }
    return [
        FamilyWeek(
            child=child,
            days=days[child.pk],
            glance=glance(
                child,
                week,
                {day.plan.date: (day.plan, day.sent, day.could_not) for day in days[child.pk]},
                closures,
            ),
            replies=replies_to(one for plan in plans for one in sent[child.pk, plan.pk]),
            coming=coming.get(child.school_class_id),
            words=words.get(child.pk, []),
        )
        for child in known
    ]


def plans_in(classes: Iterable[int | None], week: Week) -> DayPlanQuerySet:
    """Return the plans of *week* that went out to *classes*, first day first."""
    out = DayPlan.objects.out().filter(school_class__in=[pk for pk in classes if pk])
    return out.filter(date__range=(week.monday, week.sunday)).order_by("date")


def sent_for(
    children: list[Child], plans: list[DayPlan], own: SubmissionQuerySet
) -> dict[tuple[int, int], list[Submission]]:
    """Return of *own* what came for each child and plan, by their keys, oldest first."""
    rows = with_answer_count(
        own.active().filter(child__in=children, day_plan__in=plans)
    ).select_related("child", "day_plan", "look__looked_by")
    found: dict[tuple[int, int], list[Submission]] = defaultdict(list)
    for submission in rows.prefetch_related("voice_replies").order_by("sent_at", "pk"):
        found[submission.child_id, submission.day_plan_id].append(submission)
    return found


def replies_to(submissions: Iterable[Submission]) -> list[Look]:
    """Return the looks at *submissions* that the family is told of."""
    return [one.look for one in submissions if one.is_answered and hasattr(one, "look")]


def coming_plans(classes: Iterable[int | None], week: Week) -> dict[int, DayPlan]:
    """Return by class the first plan after *week* that is out already."""
    later = DayPlan.objects.out().filter(school_class__in=[pk for pk in classes if pk])
    found: dict[int, DayPlan] = {}
    for plan in later.filter(date__gt=week.sunday, date__lte=week.sunday + dt.timedelta(weeks=4)):
        found.setdefault(plan.school_class_id, plan)
    return found
