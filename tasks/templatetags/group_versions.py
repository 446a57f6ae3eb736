"""What groups wait for on drafted days: {% load group_versions %}."""

import datetime as dt
from collections.abc import Iterable

from django import template
from django.utils.formats import date_format
from django.utils.translation import ngettext

from portal.people.models import SchoolClass
from tasks.models import Sequence
from tasks.sequences.group_versions import filled_last, waiting

register = template.Library()


@register.inclusion_tag("sequences/_group_versions.html", takes_context=True)
def group_versions(
    context: template.Context, school_class: SchoolClass, sequence: Sequence | None = None
) -> dict[str, object]:
    """Offer to draw what groups wait for on drafted days, and to take back what was drawn last.

    sequence: on its page; only its days count there.
    """
    filled = filled_last(school_class)
    days = (filled.filter(sequence=sequence) if sequence else filled).count()
    return {
        "school_class": school_class,
        "query": f"?sequence={sequence.pk}" if sequence else "",
        "waiting": waiting(school_class, sequence),
        "filled": said_filled(days) if days else "",
        "csrf_token": context.get("csrf_token"),
    }


def said_filled(days: int) -> str:
    """Say on how many days groups have just got their own main task."""
    return ngettext(
        "Groups have their own main task now on %(days)s day.",
        "Groups have their own main task now on %(days)s days.",
        days,
    ) % {"days": days}


@register.filter
def in_short(dates: Iterable[dt.date]) -> str:
    """Write days in a row: Mon 23 Nov, Tue 24 Nov."""
    return ", ".join(date_format(date, "D j M") for date in dates)
