"""A class by its goals: how strong the evidence is, how many pieces, how shown the last time."""

import datetime as dt
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from django.urls import reverse

from assessment.goals.goal_sets import framework_of
from assessment.insight.rows import Shown
from assessment.insight.strength import Strength
from assessment.models import Framework, Goal, Tag
from assessment.progress.evidence_strength import Weighed, weigh_tags, weighed
from assessment.progress.wording import HOW, WORDS
from assessment.spreadsheets import Table
from portal.people.models import Child, SchoolClass, User

BY_NAME, QUIET_FIRST = "name", "quiet"


@dataclass(frozen=True)
class Wanted:
    """What of a class's evidence to show, and in which order of children.

    first, last: days of the work, both included. kind: of the work. how: only cells that were
    shown so the last time. order: by name, or those first whose evidence is the oldest.
    """

    first: dt.date | None = None
    last: dt.date | None = None
    kind: str = ""
    how: str = ""
    order: str = BY_NAME

    @property
    def narrows(self) -> bool:
        """Whether only some of the work counts."""
        return bool(self.first or self.last or self.kind)


@dataclass(frozen=True)
class Cell:
    """One child and one goal. `words` is empty where nothing was tagged; `url` opens the work."""

    goal: Goal
    words: str = ""
    url: str = ""

    def __str__(self) -> str:
        return self.words


@dataclass(frozen=True)
class Grid:
    """A class by its goals."""

    framework: Framework
    goals: list[Goal]
    rows: list[tuple[Child, list[Cell]]]


def class_grid(school_class: SchoolClass, user: User, wanted: Wanted | None = None) -> Grid:
    """Gather *school_class* by its goals in a fixed number of queries."""
    wanted = wanted or Wanted()
    framework = framework_of(school_class)
    goals = list(framework.goals.in_use())
    children = list(Child.objects.taught_by(user).filter(school_class=school_class))
    found = evidence(children, school_class.school.today(), wanted)
    if wanted.order == QUIET_FIRST:
        children = quiet_first(children, found)
    words = {**{word: str(label) for word, label in WORDS.items()}, **HOW}
    words = {name: str(label) for name, label in words.items()}
    rows = [(child, list(cells_of(child, goals, found, wanted.how, words))) for child in children]
    return Grid(framework, goals, rows)


def evidence(children: Sequence[Child], today: dt.date, wanted: Wanted) -> Weighed:
    """Weigh the evidence of *children*: all of it, or that of the work *wanted* alone."""
    if not wanted.narrows:
        return weighed(children, today)
    tags = Tag.objects.filter(child__in=children)
    if wanted.first:
        tags = tags.filter(submission__day_plan__date__gte=wanted.first)
    if wanted.last:
        tags = tags.filter(submission__day_plan__date__lte=wanted.last)

    def of_kind(row: Shown) -> bool:
        return not wanted.kind or row.kind == wanted.kind

    return weigh_tags(tags, children, today, of_kind)


def quiet_first(children: Sequence[Child], found: Weighed) -> list[Child]:
    """Put *children* in the order of their latest evidence, the longest ago first."""
    latest: dict[int, dt.date] = {}
    for (child, _goal), weight in found.items():
        if weight.last_on:
            latest[child] = max(latest.get(child, dt.date.min), weight.last_on)
    return sorted(children, key=lambda child: latest.get(child.pk, dt.date.min))


def cells_of(
    child: Child, goals: Sequence[Goal], found: Weighed, how: str, words: dict[str, str]
) -> Iterator[Cell]:
    """Yield the row of one child; *words*: every word and how in the reader's language."""
    page = reverse("assessment:child", args=[child.pk])
    for goal in goals:
        weight = found.get((child.pk, goal.pk))
        if weight is None or not weight.count or (how and weight.last_how != how):
            yield Cell(goal)
            continue
        # Put together by hand: to reverse it for each of a thousand cells takes half the page.
        yield Cell(goal, said(weight, words), f"{page}goals/{goal.pk}/")


def said(weight: Strength, words: dict[str, str]) -> str:
    """Say a strength as a cell does: its word, how many pieces, how shown the last time."""
    return f"{words[weight.word]} · {weight.count} · {words[weight.last_how]}"


def grid_table(grid: Grid, name: str, heading: str) -> Table:
    """Return the grid as it is on screen."""
    titles = [heading, *(f"{goal.strand}: {goal.label}" for goal in grid.goals)]
    return Table(name, titles, [(child, *cells) for child, cells in grid.rows])
