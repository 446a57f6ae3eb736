"""A class by its goals: when each was shown the last times, and how."""

import datetime as dt
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from django.urls import reverse

from assessment.goals.goal_sets import framework_of
from assessment.insight.rows import Shown
from assessment.insight.weeks import Week
from assessment.models import Framework, Goal, Tag, TagQuerySet
from assessment.progress.evidence_strength import Weighed, weigh_tags, weighed
from assessment.progress.pictures.marks import drawn
from assessment.progress.wording import times_words
from portal.people.models import Child, SchoolClass, User

MANY = 9  # More goals than this stand in lower rows, so that all of them fit one screen.


@dataclass(frozen=True)
class Wanted:
    """What of a class's evidence to show: days of the work, both included, and its kind."""

    first: dt.date | None = None
    last: dt.date | None = None
    kind: str = ""

    def among(self, tags: TagQuerySet) -> TagQuerySet:
        """Return those of *tags* whose work is of these days."""
        if self.first:
            tags = tags.filter(submission__day_plan__date__gte=self.first)
        if self.last:
            tags = tags.filter(submission__day_plan__date__lte=self.last)
        return tags

    @property
    def narrows(self) -> bool:
        """Whether only some of the work counts."""
        return bool(self.first or self.last or self.kind)


@dataclass(frozen=True)
class Cell:
    """One goal under one column. `words` is empty where nothing was tagged; `url` opens the work.

    label: its column's. is_new: whether any of it is of this week.
    """

    label: str
    words: str = ""
    marks: str = ""
    url: str = ""
    is_new: bool = False


@dataclass(frozen=True)
class Column:
    """A child, with the address of its page, or a month."""

    label: str
    url: str = ""


@dataclass(frozen=True)
class Row:
    """One goal; before: the set it is from, where the class is tagged against another by now."""

    goal: Goal
    url: str
    cells: list[Cell]
    before: Framework | None = None


@dataclass(frozen=True)
class Picture:
    """Goals from top to bottom, and children or months across."""

    columns: list[Column]
    rows: list[Row]

    @property
    def is_many(self) -> bool:
        """Whether the rows are to be low."""
        return len(self.rows) > MANY


@dataclass(frozen=True)
class Grid:
    """A class by its goals, the children in the order of the register."""

    framework: Framework
    picture: Picture


def class_grid(school_class: SchoolClass, user: User, wanted: Wanted | None = None) -> Grid:
    """Gather *school_class* by its goals in a fixed number of queries."""
    framework = framework_of(school_class)
    children = list(Child.objects.taught_by(user).filter(school_class=school_class))
    today = school_class.school.today()
    found = evidence(children, today, wanted or Wanted())
    since = Week.of(today).monday
    rows = [
        Row(
            goal,
            reverse("assessment:goal", args=[school_class.pk, goal.pk]),
            list(cells_of(goal, children, found, since)),
        )
        for goal in framework.goals.in_use()
    ]
    columns = [Column(str(one), reverse("assessment:child", args=[one.pk])) for one in children]
    return Grid(framework, Picture(columns, rows))


def evidence(children: Sequence[Child], today: dt.date, wanted: Wanted) -> Weighed:
    """Weigh the evidence of *children*: all of it, or that of the work *wanted* alone."""
    if not wanted.narrows:
        return weighed(children, today)

    def of_kind(row: Shown) -> bool:
        return not wanted.kind or row.kind == wanted.kind

    tags = wanted.among(Tag.objects.filter(child__in=children))
    return weigh_tags(tags, children, today, of_kind)


def cells_of(
    goal: Goal, children: Sequence[Child], found: Weighed, since: dt.date
) -> Iterator[Cell]:
    """Yield the row of one goal; what is of *since* or later is new."""
    # Put together by hand: to reverse each of a thousand addresses takes half the page.
    before, after = reverse("assessment:evidence", args=[0, goal.pk]).split("0", 1)
    for child in children:
        weight = found.get((child.pk, goal.pk))
        if weight is None:
            yield Cell(str(child))
            continue
        yield Cell(
            label=str(child),
            words=times_words(weight.latest),
            marks=drawn(tuple(one.how for one in weight.latest)),
            url=f"{before}{child.pk}{after}",
            is_new=weight.latest[-1].on >= since,
        )
