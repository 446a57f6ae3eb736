"""Rolling the week up: one summary a class, one a child and home, and the mails; each once.

The class's own row is the gate. It is made first, in the transaction that makes all the
others; whoever finds it there already has nothing to do.
"""

import datetime as dt
import logging
from collections.abc import Iterable, Mapping
from dataclasses import fields

from django.db import transaction
from django.utils import timezone

from assessment.insight.rows import Sent
from assessment.insight.weekfigures import ChildWeek, Rows, WeekFigures, child_weeks
from assessment.insight.weeks import Week, summary_due, week_due
from assessment.models import SummaryMail, WeekSummary
from assessment.weekly.class_week import class_week
from assessment.weekly.family_words import release
from evidence.models import Submission
from portal.people.models import Child, Guardianship, School, SchoolClass, StaffPost
from portal.people.school.models import SchoolClassQuerySet

log = logging.getLogger("assessment")

# A run that was missed is made up for; later than this, a summary is news of long ago.
MADE_UP_FOR = dt.timedelta(days=7)
LATE = dt.timedelta(hours=2)


def make_due(now: dt.datetime) -> int:
    """Make every summary that is due at *now* and not made yet; give for how many classes."""
    made = 0
    for school in School.objects.prefetch_related("closures").iterator(chunk_size=100):
        week = week_to_make(school, now)
        if week is None:
            continue
        waiting = classes_without(school, week).values_list("pk", flat=True)
        for class_pk in list(waiting):
            made += try_to_make(class_pk, week)
    return made


def try_to_make(class_pk: int, week: Week) -> bool:
    """Make one class's summaries; what goes wrong there does not keep the others waiting."""
    try:
        return make_summary(class_pk, week)
    except Exception as error:
        # The error's own words may hold a child's data, and may not stand in a log.
        log.error("week %s of class %s failed: %s", week, class_pk, type(error).__name__)
        return False


def late_classes(now: dt.datetime) -> int:
    """Count the classes whose week was due LATE before *now*, and is not summed up yet."""
    due = (
        (school, week)
        for school in School.objects.prefetch_related("closures").iterator(chunk_size=100)
        if (week := week_to_make(school, now - LATE))
    )
    return sum(classes_without(school, week).count() for school, week in due)


def week_to_make(school: School, now: dt.datetime) -> Week | None:
    """Return the week that *school* is to have summed up by *now*; None when it is too late."""
    closures = closures_of(school)
    week = week_due(now, school.zone, closures, school.summary_hour)
    due = week and summary_due(week, school.zone, closures, school.summary_hour)
    return week if due and now < due + MADE_UP_FOR else None


def closures_of(school: School) -> list[tuple[dt.date, dt.date]]:
    """Return the spans of days on which *school* is closed."""
    return [(closure.first, closure.last) for closure in school.closures.all()]


def classes_without(school: School, week: Week) -> SchoolClassQuerySet:
    """Return the classes whose year holds *week* and that have no summary of it."""
    made = WeekSummary.objects.filter(week=week.monday, audience=WeekSummary.Audience.STAFF)
    classes = SchoolClass.objects.filter(
        year__school=school, year__starts__lte=week.sunday, year__ends__gte=week.monday
    )
    return classes.exclude(pk__in=made.values("school_class"))


@transaction.atomic
def make_summary(class_pk: int, week: Week) -> bool:
    """Roll *week* of one class up, unless that has been done; tell whether this call did it."""
    staff_row, new = WeekSummary.objects.get_or_create(
        audience=WeekSummary.Audience.STAFF,
        school_class_id=class_pk,
        week=week.monday,
        defaults={"figures": {}},
    )
    if not new:
        return False
    school_class = SchoolClass.objects.select_related("year__school").get(pk=class_pk)
    whole = class_week(school_class, Child.objects.filter(school_class=school_class), week)
    staff_row.figures = as_json(whole.figures) | {
        "days_set": len(whole.days_set),
        "left_out": whole.left_out,
    }
    staff_row.save(update_fields=["figures"])
    family_rows = make_family_rows(school_class, week, set(whole.days_set))
    release(school_class, week)
    SummaryMail.objects.bulk_create(
        [*staff_mails(staff_row), *family_mails(family_rows)], ignore_conflicts=True
    )
    log.info("week %s of class %s is summed up: %s rows", week, class_pk, 1 + len(family_rows))
    return True


def as_json(figures: WeekFigures) -> dict[str, object]:
    """Return figures as they are kept: counts, codes of goals, keys of children; no names."""
    values = {each.name: getattr(figures, each.name) for each in fields(figures)}
    return {
        name: dict(value) if isinstance(value, Mapping) else value for name, value in values.items()
    }


def make_family_rows(
    school_class: SchoolClass, week: Week, days_set: set[dt.date]
) -> list[WeekSummary]:
    """Store a summary for each child of the class and each home it lives in now."""
    pairs = list(
        Guardianship.objects.current()
        .filter(child__school_class=school_class)
        .order_by("child", "home")
        .values_list("child", "home")
        .distinct()
    )
    sent = sent_by_home(pairs, week)
    names = {pair: f"{pair[0]} {pair[1]}" for pair in pairs}
    rows = Rows(set_days=dict.fromkeys(names.values(), days_set), sent=sent)
    weeks = child_weeks(list(names.values()), week, rows)
    made = [
        WeekSummary(
            audience=WeekSummary.Audience.FAMILY,
            school_class=school_class,
            child_id=child,
            home_id=home,
            week=week.monday,
            figures=family_figures(figures),
        )
        for (child, home), figures in zip(pairs, weeks, strict=True)
    ]
    return WeekSummary.objects.bulk_create(made)


def family_figures(figures: ChildWeek) -> dict[str, int]:
    """Keep what a family may be told: how much was set and sent; no goals, no mistakes."""
    return {
        "set_days": figures.set_days,
        "sent_days": figures.sent_days,
        "pieces": figures.pieces,
    }


def sent_by_home(pairs: list[tuple[int, int]], week: Week) -> list[Sent]:
    """Return what came for the days of *week*, by child and home."""
    came = Submission.objects.active().filter(
        child__in={child for child, _home in pairs},
        day_plan__date__range=(week.monday, week.sunday),
    )
    return [
        Sent(f"{child} {home}", day)
        for child, home, day in came.values_list("child", "home", "day_plan__date")
    ]


def staff_mails(summary: WeekSummary) -> Iterable[SummaryMail]:
    """Return the unsaved mails to the teachers of the class."""
    posts = StaffPost.objects.current().filter(
        role=StaffPost.Role.TEACHER, classes=summary.school_class, user__is_active=True
    )
    for user in posts.values_list("user", flat=True).distinct():
        yield SummaryMail(summary=summary, recipient_id=user, week=summary.week)


def family_mails(summaries: list[WeekSummary]) -> Iterable[SummaryMail]:
    """Return the unsaved mails to the adults of each home that wants one and had anything to do.

    One a home and adult: a conflict means that a brother or sister was there first.
    """
    by_home = {(s.child_id, s.home_id): s for s in summaries if s.figures["set_days"]}
    adults = Guardianship.objects.current().filter(
        child__in=[child for child, _home in by_home], home__wants_mail=True, adult__is_active=True
    )
    for child, home, adult in adults.order_by("pk").values_list("child", "home", "adult"):
        if summary := by_home.get((child, home)):
            yield SummaryMail(summary=summary, recipient_id=adult, home_id=home, week=summary.week)


def make_due_now() -> int:
    """Make what is due by the clock."""
    return make_due(timezone.now())
