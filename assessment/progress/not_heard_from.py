"""Children from whom nothing came: since when, what came last, and who has called."""

import datetime as dt
from collections import defaultdict
from dataclasses import dataclass

from django.db.models import Exists, Max, OuterRef, Subquery

from assessment.insight.weeks import not_heard_from
from assessment.models import ContactNote
from assessment.progress.week_rows import day_at
from evidence.models import Submission
from portal.people.families.models.homes import ChildQuerySet
from portal.people.models import Child, Guardianship, School, SchoolClass, User

NOTES_SHOWN = 3


@dataclass(frozen=True)
class Unheard:
    """A child, what came last of them (None: nothing), school days since, and the latest calls."""

    child: Child
    last: Submission | None
    days: int
    notes: list[ContactNote]


@dataclass(frozen=True)
class NotHeardFrom:
    """The children of a class not heard from, the longest first, and those who work on paper."""

    silent: list[Unheard]
    on_paper: list[tuple[Child, Submission | None]]


def not_heard_from_in(school_class: SchoolClass, user: User, days: int) -> NotHeardFrom:
    """Find who in *school_class* sent nothing on the last *days* school days or more.

    Today is not over and does not count; nor do weekends, closures, and days before the year.
    """
    children = list(with_last_work(school_class, user))
    works = Submission.objects.select_related("day_plan")
    last_work = works.in_bulk([child.last_work for child in children if child.last_work])
    by_key = {child.pk: child for child in children}
    school, before = school_class.school, school_class.year.starts - dt.timedelta(days=1)
    heard = {
        child.pk: max([before, *days_heard(child, last_work.get(child.last_work), school)])
        for child in children
    }
    closures = list(school.closures.values_list("first", "last"))
    found = not_heard_from(heard, school.today(), days, closures)
    notes = notes_about([by_key[key] for key, _days in found], user)
    return NotHeardFrom(
        silent=[
            Unheard(by_key[key], last_work.get(by_key[key].last_work), since, notes[key])
            for key, since in found
        ],
        on_paper=[(child, last_work.get(child.last_work)) for child in children if child.on_paper],
    )


def days_heard(child: Child, last: Submission | None, school: School) -> list[dt.date]:
    """Give the days on which a home of *child* last sent work, and last said that it could not."""
    moments = (last and last.sent_at, child.last_told)
    return [day_at(school, moment) for moment in moments if moment]


def with_last_work(school_class: SchoolClass, user: User) -> ChildQuerySet:
    """Say of each child as `last_work` the key of what came last.

    `last_told`: when a home last said that it could not be done. `on_paper`: no adult at home has
    an account.
    """
    sent = Submission.objects.active().filter(child=OuterRef("pk")).order_by("-sent_at", "-pk")
    adults = Guardianship.objects.current().filter(child=OuterRef("pk"))
    own = Child.objects.taught_by(user).filter(school_class=school_class)
    return own.annotate(
        last_work=Subquery(sent.values("pk")[:1]),
        last_told=Max("could_nots__said_at"),
        on_paper=~Exists(adults),
    )


def notes_about(children: list[Child], user: User) -> dict[int, list[ContactNote]]:
    """Return the latest few notes about each of *children*, by the child's key, newest first."""
    found: dict[int, list[ContactNote]] = defaultdict(list)
    notes = ContactNote.objects.visible_to(user).filter(child__in=children)
    for note in notes.select_related("called_by"):
        if len(found[note.child_id]) < NOTES_SHOWN:
            found[note.child_id].append(note)
    return found
