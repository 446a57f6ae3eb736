"""Who is to be reminded now: work is set today, nothing came and nobody said it could not."""

import datetime as dt

from django.db.models import Exists, OuterRef, Q

from evidence.models import Submission
from evidence.reminders.choices import Reminder, ReminderQuerySet
from evidence.submissions.nonsubmissions import Nonsubmission
from portal.people.families.models.homes import GuardianshipQuerySet
from portal.people.models import Child, Closure, Guardianship, School
from tasks.days import SCHOOL_DAYS
from tasks.models import DayPlan, Task

# What a worker that was away missed is made up for within these hours, and not after.
HOURS_LATE = 2


def due(now: dt.datetime) -> list[tuple[int, dt.date]]:
    """List the adults to remind at *now*, each with the day at their children's school."""
    found: dict[int, dt.date] = {}
    schools = School.objects.filter(homes__guardianships__adult__reminder__isnull=False).distinct()
    for school in schools:
        here = now.astimezone(school.zone)
        if is_school_day(school, here.date()):
            for adult in reminders_at(school, here).values_list("pk", flat=True):
                found.setdefault(adult, here.date())
    return sorted(found.items())


def is_school_day(school: School, day: dt.date) -> bool:
    """Whether *school* is open on *day*."""
    closed = Closure.objects.filter(school=school, first__lte=day, last__gte=day)
    return day.weekday() < SCHOOL_DAYS and not closed.exists()


def reminders_at(school: School, here: dt.datetime) -> ReminderQuerySet:
    """Return the reminders due at *here*, the time at *school*, for children of that school."""
    hours = range(here.hour - HOURS_LATE + 1, here.hour + 1)
    waiting = waiting_at_home(school, here.date()).filter(adult=OuterRef("adult"))
    wanted = Reminder.objects.left_on(here.date()).filter(hour__in=hours)
    return wanted.filter(Exists(waiting))


def waiting_at_home(school: School, day: dt.date) -> GuardianshipQuerySet:
    """Return who is at home with a child that has work for *day*, of which nothing was heard."""
    about = {"child": OuterRef("child"), "home": OuterRef("home"), "day_plan__date": day}
    groups = Child.groups.through.objects.filter(child=OuterRef(OuterRef("child")))
    for_child = Q(group=None) | Q(group__in=groups.values("group"))
    tasks = Task.objects.filter(
        for_child,
        day_plan__in=DayPlan.objects.out().filter(date=day),
        day_plan__school_class=OuterRef("child__school_class"),
    )
    return (
        Guardianship.objects.current()
        .filter(child__school=school)
        .filter(Exists(tasks))
        .filter(~Exists(Submission.objects.active().filter(**about)))
        .filter(~Exists(Nonsubmission.objects.filter(**about)))
    )
