"""Children from whom nothing came: since when, what came last, who has called, and who is awaited.

Invited, never come in, on paper and silent are four things; each has its own next step.
"""

import datetime as dt
from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, field

from django.db.models import Max, OuterRef, Subquery

from assessment.insight.taking_part import WayIn, due_days, not_heard_from
from assessment.insight.weeks import school_days
from assessment.models import ContactNote
from assessment.progress.ways_in import HomeWay, Standing, home_way, with_ways_in
from assessment.progress.week_rows import day_at
from evidence.models import Submission
from portal.people.families.models.homes import ChildQuerySet
from portal.people.models import Child, School, SchoolClass, User
from tasks.models import DayPlan

NOTES_SHOWN = 3


@dataclass(frozen=True)
class Unheard:
    """A child, what came last of them (None: nothing), days set since, and the latest calls."""

    child: Child
    last: Submission | None
    days: int
    notes: list[ContactNote]


@dataclass(frozen=True)
class Apart:
    """A child of whom silence says nothing yet: where its home stands, and what came last."""

    child: Child
    home: HomeWay
    last: Submission | None


@dataclass(frozen=True)
class NotHeardFrom:
    """The children of a class not heard from, the longest first, and those it says nothing of."""

    silent: list[Unheard]
    on_paper: list[Apart] = field(default_factory=list)
    invited: list[Apart] = field(default_factory=list)
    never_came_in: list[Apart] = field(default_factory=list)


def not_heard_from_in(school_class: SchoolClass, user: User, days: int) -> NotHeardFrom:
    """Find who in *school_class* sent nothing on the last *days* days set, or more.

    Counts from the first day set after somebody at home had come in; today is not over.
    """
    children = list(with_last_work(school_class, user))
    works = Submission.objects.select_related("day_plan")
    last_work = works.in_bulk([child.last_work for child in children if child.last_work])
    by_key = {child.pk: child for child in children}
    school = school_class.school
    homes = {child.pk: home_way(child, school) for child in children}
    awaited = {child for child, home in homes.items() if home.standing == Standing.IN}
    heard = {
        child.pk: max([dt.date.min, *days_heard(child, last_work.get(child.last_work), school)])
        for child in children
        if child.pk in awaited
    }
    due = due_of(school_class, {key: homes[key].way for key in awaited})
    found = not_heard_from(heard, due, days)
    notes = notes_about([by_key[key] for key, _days in found], user)
    apart: dict[Standing, list[Apart]] = defaultdict(list)
    for child in children:
        home = homes[child.pk]
        apart[home.standing].append(Apart(child, home, last_work.get(child.last_work)))
    return NotHeardFrom(
        silent=[
            Unheard(by_key[key], last_work.get(by_key[key].last_work), since, notes[key])
            for key, since in found
        ],
        on_paper=apart[Standing.ON_PAPER],
        invited=apart[Standing.INVITED],
        never_came_in=apart[Standing.NEVER_CAME_IN],
    )


def due_of(
    school_class: SchoolClass, ways: Mapping[int, WayIn]
) -> dict[int | str, tuple[dt.date, ...]]:
    """Return for each of *ways* the days of the year so far for which something could have come."""
    school, today = school_class.school, school_class.school.today()
    closures = list(school.closures.values_list("first", "last"))
    open_on = set(school_days(school_class.year.starts, today, closures))
    plans = DayPlan.objects.out().filter(school_class=school_class, tasks__isnull=False)
    days_set = open_on.intersection(plans.values_list("date", flat=True))
    return {key: due_days(way, days_set, today) for key, way in ways.items()}


def days_heard(child: Child, last: Submission | None, school: School) -> list[dt.date]:
    """Give the days on which a home of *child* last sent work, and last said that it could not."""
    moments = (last and last.sent_at, child.last_told)
    return [day_at(school, moment) for moment in moments if moment]


def with_last_work(school_class: SchoolClass, user: User) -> ChildQuerySet:
    """Say of each child as `last_work` the key of what came last, and where its home stands.

    `last_told`: when a home last said that it could not be done.
    """
    sent = Submission.objects.active().filter(child=OuterRef("pk")).order_by("-sent_at", "-pk")
    own = Child.objects.taught_by(user).filter(school_class=school_class)
    known = with_ways_in(own).annotate(
        last_work=Subquery(sent.values("pk")[:1]), last_told=Max("could_nots__said_at")
    )
    return known.order_by("first_name", "initial", "pk")


def notes_about(children: list[Child], user: User) -> dict[int, list[ContactNote]]:
    """Return the latest few notes about each of *children*, by the child's key, newest first."""
    found: dict[int, list[ContactNote]] = defaultdict(list)
    notes = ContactNote.objects.visible_to(user).filter(child__in=children)
    for note in notes.select_related("called_by"):
        if len(found[note.child_id]) < NOTES_SHOWN:
            found[note.child_id].append(note)
    return found
