"""One child by its goals over the months of the year: each time one was tagged, as a mark."""

import datetime as dt
from collections.abc import Iterator, Sequence

from django.urls import reverse
from django.utils.formats import date_format

from assessment.insight.strength import Seen
from assessment.progress.child_work import GoalSeen
from assessment.progress.pictures.grid import Cell, Column, Picture, Row
from assessment.progress.pictures.marks import drawn
from assessment.progress.wording import times_words
from portal.people.models import Child


def year_picture(child: Child, goals: Sequence[GoalSeen], today: dt.date) -> Picture:
    """Draw *goals* over the months of the year of the class of *child*, up to *today*."""
    months = list(months_from(child.school_class.year.starts, today))
    rows = []
    for one in goals:
        url = reverse("assessment:evidence", args=[child.pk, one.goal.pk])
        cells = [cell_of(month, one.times, url) for month in months]
        rows.append(Row(one.goal, url, cells, one.before))
    return Picture([Column(date_format(month, "M")) for month in months], rows)


def cell_of(month: dt.date, times: Sequence[Seen], url: str) -> Cell:
    """Return the cell of one goal in one month."""
    label = date_format(month, "F")
    here = [one for one in times if one.on.replace(day=1) == month]
    if not here:
        return Cell(label)
    marks = drawn(tuple(one.how for one in here))
    return Cell(label, times_words(here), marks, f"{url}?month={month:%Y-%m}")


def months_from(first: dt.date, last: dt.date) -> Iterator[dt.date]:
    """Yield the first day of every month from that of *first* to that of *last*."""
    month = first.replace(day=1)
    while month <= last:
        yield month
        month = (month + dt.timedelta(days=31)).replace(day=1)
