"""For the lead: in which months the work of each class was tagged with each goal. No numbers."""

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from django.db.models.functions import TruncMonth
from django.urls import reverse
from django.utils.formats import date_format

from assessment.judgements.lead_overview import frameworks_of
from assessment.models import Framework, Tag
from assessment.progress.pictures.child_year import months_from
from assessment.progress.pictures.grid import Cell, Column, Picture, Row
from assessment.progress.pictures.marks import strip
from portal.people.models import School, SchoolClass, User

# By the keys of class and goal: the first days of the months.
Looked = Mapping[tuple[int, int], set[dt.date]]


@dataclass(frozen=True)
class GoalsOfClasses:
    """One set of goals, over the classes that are tagged against it, in the order of names."""

    framework: Framework
    picture: Picture


def school_goals(school: School, user: User) -> list[GoalsOfClasses]:
    """Gather the classes of this year in a number of queries that grows with no class."""
    today = school.today()
    known = SchoolClass.objects.filter(
        year__school=school, year__starts__lte=today, year__ends__gte=today
    )
    classes = list(known.select_related("year").order_by("name", "pk"))
    frameworks = frameworks_of([each.pk for each in classes])
    looked: dict[tuple[int, int], set[dt.date]] = {}
    tags = Tag.objects.visible_to(user).filter(child__school_class__in=classes)
    months = tags.annotate(month=TruncMonth("submission__day_plan__date")).order_by()
    for school_class, goal, month in months.values_list(
        "child__school_class", "goal", "month"
    ).distinct():
        looked.setdefault((school_class, goal), set()).add(month)
    return [
        GoalsOfClasses(framework, picture_of(framework, own, looked, today))
        for framework in dict.fromkeys(frameworks.values())
        if (own := [each for each in classes if frameworks[each.pk] == framework])
    ]


def picture_of(
    framework: Framework, classes: Sequence[SchoolClass], looked: Looked, today: dt.date
) -> Picture:
    """Draw the goals of *framework* over *classes*."""
    months = list(months_from(min(each.year.starts for each in classes), today))
    urls = {each.pk: reverse("assessment:goals", args=[each.pk]) for each in classes}
    rows = []
    for goal in framework.goals.in_use():
        cells = []
        for each in classes:
            found = looked.get((each.pk, goal.pk), set())
            words = ", ".join(date_format(month, "M") for month in months if month in found)
            marks = strip(tuple(month in found for month in months))
            url = reverse("assessment:goal", args=[each.pk, goal.pk])
            cells.append(Cell(each.name, words, marks, url) if words else Cell(each.name))
        rows.append(Row(goal, "", cells))
    return Picture([Column(each.name, urls[each.pk]) for each in classes], rows)
