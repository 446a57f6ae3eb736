"""What a class was set before a day: the kinds it has met, and when it met each last."""

import datetime as dt

from django.db.models import Max

from portal.people.models import SchoolClass
from tasks.models import Task
from tasks.numberwork import EVERY_KIND

# The other parts have a kind that comes every day in any case.
MET_IN = (Task.Part.QUICK_RECALL, Task.Part.MAIN_TASK, Task.Part.TRY_AT_HOME)


def last_set(school_class: SchoolClass, before: dt.date) -> dict[str, dt.date]:
    """Return the kinds set in any part before a day, with the last date of each; one query.

    Kinds that are gone are passed over: nothing can be drawn of them.
    """
    return _last_dates(school_class, before, Task.Part.values)


def kinds_met(school_class: SchoolClass, before: dt.date) -> dict[str, dt.date]:
    """Return the kinds set before a day in parts that choose theirs, longest ago first."""
    return _last_dates(school_class, before, MET_IN)


def _last_dates(
    school_class: SchoolClass, before: dt.date, parts: tuple[str, ...] | list[str]
) -> dict[str, dt.date]:
    rows = (
        Task.objects.filter(
            day_plan__school_class=school_class,
            day_plan__goes_out_at__isnull=False,
            day_plan__date__lt=before,
            part__in=parts,
            kind__in=EVERY_KIND,
            group=None,
        )
        .values("kind")
        .annotate(last=Max("day_plan__date"))
        .order_by("last", "kind")
    )
    return {row["kind"]: row["last"] for row in rows}
