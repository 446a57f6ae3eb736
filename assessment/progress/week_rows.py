"""Gathering the rows of a class's week, for assessment.insight to reckon with."""

import datetime as dt
from collections.abc import Collection, Iterable
from dataclasses import dataclass

from django.db.models import Min

from assessment.insight.rows import Sent, Shown
from assessment.insight.weekfigures import Rows
from assessment.insight.weeks import Week
from assessment.models import Tag
from assessment.progress.mistakes import as_worked, mistakes_in, work_for
from evidence.models import Submission
from portal.people.models import Child, School, SchoolClass
from tasks.models import DayPlan

# A mistake keeps coming or has gone by the latest three pieces of work: three weeks hold them.
LOOKING_BACK = dt.timedelta(weeks=3)
UNAIDED = (Tag.How.INDEPENDENTLY, Tag.How.NEW_SITUATION)


@dataclass(frozen=True)
class OfClass:
    """What a class's week is reckoned from.

    unread: the submissions for the week that hold answers nobody can read any more.
    """

    rows: Rows
    spotted: list["Spotted"]
    unread: list[int]


@dataclass(frozen=True)
class Spotted:
    """A mistake that a child's answers suggest, on one day's work of one kind."""

    child: int
    on: dt.date
    kind: str
    mistake: str


def span(week: Week, school: School) -> tuple[dt.datetime, dt.datetime]:
    """Return the moments at which *week* begins and ends by the clocks of *school*."""
    begins, ends = (
        dt.datetime.combine(day, dt.time(), tzinfo=school.zone)
        for day in (week.monday, week.shifted(1).monday)
    )
    return begins, ends


def day_at(school: School, moment: dt.datetime) -> dt.date:
    """Return the date at *school* at *moment*."""
    return moment.astimezone(school.zone).date()


def plans_of(school_class: SchoolClass, week: Week) -> list[DayPlan]:
    """Return the plans of *week* that families may see by now."""
    plans = DayPlan.objects.out().filter(school_class=school_class)
    return list(plans.filter(date__range=(week.monday, week.sunday)))


def class_rows(school_class: SchoolClass, children: Iterable[Child], week: Week) -> OfClass:
    """Gather the rows for *week*, whenever they came, and the mistakes its answers suggest."""
    keys = [child.pk for child in children]
    set_days = {plan.date for plan in plans_of(school_class, week)}
    works = work_for(keys, week.monday - LOOKING_BACK, week.sunday)
    found = mistakes_in(works)
    done = as_worked(works, found)
    rows = Rows(
        set_days=dict.fromkeys(keys, set_days),
        sent=[Sent(work.child, work.on) for work in works],
        shown=shown_rows(keys, week),
        worked=done,
    )
    spotted = [
        Spotted(int(row.child), row.on, row.kind, mistake)
        for row in done
        for mistake in sorted(row.found)
        if row.on in week
    ]
    unread = [work.pk for work in works if work.on in week and not found[work.pk].is_whole]
    return OfClass(rows, spotted, unread)


def shown_rows(children: Collection[int], week: Week) -> list[Shown]:
    """Return the tags of *week*, and of the time before the first unaided one a child and goal."""
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
