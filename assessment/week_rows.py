"""Gathering the rows of a class's week, for assessment.insight to reckon with."""

import datetime as dt
from collections.abc import Collection, Iterable
from dataclasses import dataclass

from django.db.models import Min

from assessment.insight.rows import Sent, Shown, Worked
from assessment.insight.weekfigures import Rows
from assessment.insight.weeks import Week
from assessment.marking import mark_answers
from assessment.models import Tag
from evidence.models import Submission, SubmissionQuerySet
from portal.people.models import Child, School, SchoolClass
from tasks.models import DayPlan

# A mistake keeps coming or has gone by the latest three pieces of work: three weeks hold them.
LOOKING_BACK = dt.timedelta(weeks=3)
UNAIDED = (Tag.How.INDEPENDENTLY, Tag.How.NEW_SITUATION)


@dataclass(frozen=True)
class Spotted:
    """A mistake that a child's answers suggest, on one day's work of one kind."""

    child: int
    on: dt.date
    kind: str
    mistake: str


def span(week: Week, school: School) -> tuple[dt.datetime, dt.datetime]:
    """Give the moments at which *week* begins and ends by the clocks of *school*."""
    begins, ends = (
        dt.datetime.combine(day, dt.time(), tzinfo=school.zone)
        for day in (week.monday, week.shifted(1).monday)
    )
    return begins, ends


def day_at(school: School, moment: dt.datetime) -> dt.date:
    """Give the date at *school* at *moment*."""
    return moment.astimezone(school.zone).date()


def plans_of(school_class: SchoolClass, week: Week) -> list[DayPlan]:
    """Give the plans of *week* that families may see by now."""
    plans = DayPlan.objects.out().filter(school_class=school_class)
    return list(plans.filter(date__range=(week.monday, week.sunday)))


def work_sent(children: Collection[int], week: Week, school: School) -> SubmissionQuerySet:
    """Give what was sent in *week* and the three before it, with the answers."""
    begins, ends = span(week, school)
    return (
        Submission.objects.standing()
        .filter(child__in=children, sent_at__gte=begins - LOOKING_BACK, sent_at__lt=ends)
        .select_related("day_plan")
        .prefetch_related("answers__prompt__task")
        .order_by("sent_at", "pk")
    )


def class_rows(
    school_class: SchoolClass, children: Iterable[Child], week: Week
) -> tuple[Rows, list[Spotted]]:
    """Gather the rows of *week*, and the mistakes its answers suggest, in a few queries."""
    school = school_class.school
    keys = [child.pk for child in children]
    set_days = {plan.date for plan in plans_of(school_class, week)}
    sent, worked, spotted = [], [], []
    for submission in work_sent(keys, week, school):
        sent.append(Sent(submission.child_id, day_at(school, submission.sent_at)))
        found = list(spot(submission))
        spotted += found
        worked += worked_rows(submission, found)
    rows = Rows(
        set_days=dict.fromkeys(keys, set_days),
        sent=sent,
        shown=shown_rows(keys, week),
        worked=worked,
    )
    return rows, [one for one in spotted if one.on in week]


def spot(submission: Submission) -> Iterable[Spotted]:
    """Yield the mistakes that the answers of *submission* make likely."""
    for task in mark_answers(submission.answers.all()):
        for one in task.suggestions():
            if one.percent is not None:
                day = submission.day_plan.date
                yield Spotted(submission.child_id, day, task.task.kind, one.mistake)


def worked_rows(submission: Submission, spotted: Collection[Spotted]) -> Iterable[Worked]:
    """Yield what kinds of work *submission* answers, and which mistakes these could show."""
    for task in mark_answers(submission.answers.all()):
        kind = task.task.kind
        found = frozenset(one.mistake for one in spotted if one.kind == kind)
        day = submission.day_plan.date
        yield Worked(submission.child_id, day, kind, task.could_show, found)


def shown_rows(children: Collection[int], week: Week) -> list[Shown]:
    """Give the tags of *week*, and of the time before the first unaided one a child and goal."""
    tags = Tag.objects.filter(child__in=children)
    fields = ("child", "goal__code", "how", "submission__day_plan__date")
    here = tags.filter(submission__day_plan__date__range=(week.monday, week.sunday))
    rows = [
        Shown(child, code, how, on, kind="", help_given=helped)
        for child, code, how, on, helped in here.values_list(*fields, "submission__help")
    ]
    before = (
        tags.filter(submission__day_plan__date__lt=week.monday, how__in=UNAIDED)
        .exclude(submission__help=Submission.Help.TOGETHER)
        .values_list("child", "goal__code")
        .annotate(first=Min("submission__day_plan__date"))
    )
    return rows + [
        Shown(child, code, Tag.How.INDEPENDENTLY, on, kind="") for child, code, on in before
    ]
