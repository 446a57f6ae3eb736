"""A class's week for its staff: who sent, who was silent, goals seen, mistakes suggested."""

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from django.db.models import Max, Q
from django.utils.translation import ngettext

from assessment.goals.goal_sets import framework_of
from assessment.insight.rows import Mistake
from assessment.insight.taking_part import Part, due_days, parts_of
from assessment.insight.weekfigures import ChildWeek, WeekFigures, add_up, child_weeks
from assessment.insight.weeks import Week
from assessment.models import Goal
from assessment.progress.mistakes import words_of
from assessment.progress.nonsubmissions import nonsubmission_rows, nonsubmissions_for
from assessment.progress.ways_in import Standing, home_way, with_ways_in
from assessment.progress.week_rows import Spotted, class_rows, plans_of
from evidence.submissions.nonsubmissions import Nonsubmission
from portal.data_protection.models import LegalHold
from portal.people.families.models.homes import ChildQuerySet
from portal.people.models import Child, Group, SchoolClass
from tasks.numberwork import kind_kept


@dataclass(frozen=True)
class Silent:
    """A child from whom nothing came, and the day it last sent for; None: nothing ever."""

    child: Child
    since: dt.date | None


@dataclass(frozen=True)
class GoalOfWeek:
    """A goal tagged in the week: for how many children, and for how many unaided the first time."""

    goal: Goal
    children: int
    new: int


@dataclass(frozen=True)
class MistakeOfWeek:
    """A mistake that the answers of some children suggest, in the words of its kind."""

    kind: str
    sentence: str
    children: list[Child]


@dataclass(frozen=True)
class GroupWeek:
    """The week of one group of the class."""

    group: Group
    figures: WeekFigures


@dataclass(frozen=True)
class RegisterRow:
    """A line of the class's register: a child, and what became of each day that was set."""

    child: Child
    parts: tuple[Part, ...]
    said: list[Nonsubmission]
    silent: Silent | None
    standing: Standing


@dataclass(frozen=True)
class ClassWeek:
    """One week of one class, as it is known now; work counts on the day it was set for.

    register: every child, in the register's order. told: the children whose home only said that
    it could not be done, with what it said. silent: those from whom something could have come.
    on_paper, not_in: those of whom silence says nothing, and nothing came.
    gone, stayed: each mistake that went in the week, or keeps coming at its end, in words, and
    with how many children. left_out: how many things of the week this program cannot read:
    submissions whose answers it cannot mark, and mistakes it has no words for.
    """

    school_class: SchoolClass
    week: Week
    days_set: list[dt.date]
    figures: WeekFigures
    register: list[RegisterRow]
    sent: list[tuple[Child, ChildWeek]]
    told: list[tuple[Child, list[Nonsubmission]]]
    silent: list[Silent]
    on_paper: list[Child]
    not_in: list[Child]
    goals: list[GoalOfWeek]
    mistakes: list[MistakeOfWeek]
    gone: list[tuple[str, int]]
    stayed: list[tuple[str, int]]
    groups: list[GroupWeek]
    left_out: int = 0

    @property
    def left_out_words(self) -> str:
        """Say how much of the week is missing, and that the rest is whole; "" for nothing."""
        if not self.left_out:
            return ""
        return ngettext(
            "%(count)d thing from this week can no longer be read and is left out here; everything "
            "else is complete.",
            "%(count)d things from this week can no longer be read and are left out here; "
            "everything else is complete.",
            self.left_out,
        ) % {"count": self.left_out}


def class_week(school_class: SchoolClass, children: ChildQuerySet, week: Week) -> ClassWeek:
    """Gather *week* of *school_class*; *children*: those of it that may be told of.

    Children of whom anything is held are left out, without a word of it.
    """
    free = children.filter(~LegalHold.objects.about_child())
    known = list(with_last_sent(with_ways_in(free), week).order_by("first_name", "initial", "pk"))
    gathered = class_rows(school_class, known, week)
    said = nonsubmissions_for([child.pk for child in known], week)
    school = school_class.school
    ways = {child.pk: home_way(child, school) for child in known}
    days_set = sorted({plan.date for plan in plans_of(school_class, week)})
    due = {key: due_days(one.way, days_set, school.today()) for key, one in ways.items()}
    rows = replace(gathered.rows, told=nonsubmission_rows(said), due=due)
    weeks = child_weeks([child.pk for child in known], week, rows)
    figures = add_up(weeks)
    pairs = list(zip(known, weeks, strict=True))
    silent = {child.pk: Silent(child, child.last_sent) for child, one in pairs if one.is_silent}
    parts = parts_of(
        *({key: one.way for key, one in ways.items()}, days_set),
        *(rows.sent, rows.told, school.today()),
    )
    told = {child.pk: [each for each in said if each.child_id == child.pk] for child in known}
    apart = [(child, ways[child.pk].standing) for child, one in pairs if not one.heard]
    return ClassWeek(
        school_class=school_class,
        week=week,
        days_set=days_set,
        figures=figures,
        register=[
            RegisterRow(
                *(child, parts[child.pk], told[child.pk], silent.get(child.pk)),
                ways[child.pk].standing,
            )
            for child in known
        ],
        sent=[(child, one) for child, one in pairs if one.pieces],
        told=[(child, told[child.pk]) for child, one in pairs if one.told_days and not one.pieces],
        silent=list(silent.values()),
        on_paper=[child for child, standing in apart if standing == Standing.ON_PAPER],
        not_in=[
            child
            for child, standing in apart
            if standing in (Standing.INVITED, Standing.NEVER_CAME_IN)
        ],
        goals=goals_seen(school_class, figures),
        mistakes=mistakes_suggested(known, gathered.spotted),
        gone=in_words(figures.gone),
        stayed=in_words(figures.stayed),
        groups=groups_of_week(school_class, weeks),
        left_out=len(gathered.unread) + len(unnamed(gathered.spotted, figures)),
    )


def with_last_sent(children: ChildQuerySet, week: Week) -> ChildQuerySet:
    """Say of each child, as `last_sent`, the last day before *week* for which something came."""
    before = Q(submissions__withdrawn_at=None, submissions__day_plan__date__lt=week.monday)
    return children.annotate(last_sent=Max("submissions__day_plan__date", filter=before))


def in_words(mistakes: Mapping[str, int]) -> list[tuple[str, int]]:
    """Return mistakes in words with their counts, those of most children first.

    mistakes: as `str(Mistake)`. One that this program has no words for is left out.
    """
    ordered = sorted(mistakes.items(), key=lambda pair: -pair[1])
    return [(words, count) for text, count in ordered if (words := words_of(Mistake.read(text)))]


def unnamed(spotted: Iterable[Spotted], figures: WeekFigures) -> set[str]:
    """Return the mistakes of a week that this program has no words for."""
    names = {str(Mistake(one.kind, one.mistake)) for one in spotted}
    names |= {*figures.gone, *figures.stayed}
    return {name for name in names if words_of(Mistake.read(name)) is None}


def groups_of_week(school_class: SchoolClass, weeks: Iterable[ChildWeek]) -> list[GroupWeek]:
    """Add the children's weeks up for each group of the class that has children."""
    by_child = {one.child: one for one in weeks}
    groups = school_class.groups.prefetch_related("children")
    members = [
        (group, [by_child[child.pk] for child in group.children.all() if child.pk in by_child])
        for group in groups
    ]
    return [GroupWeek(group, add_up(inside)) for group, inside in members if inside]


def goals_seen(school_class: SchoolClass, figures: WeekFigures) -> list[GoalOfWeek]:
    """List the goals shown in the week, in the framework's order."""
    goals = framework_of(school_class).goals.filter(code__in=list(figures.goals))
    return [
        GoalOfWeek(goal, figures.goals[goal.code], figures.new.get(goal.code, 0)) for goal in goals
    ]


def mistakes_suggested(children: list[Child], spotted: list[Spotted]) -> list[MistakeOfWeek]:
    """List the mistakes suggested in the week that have words, those of most children first."""
    by_key = {child.pk: child for child in children}
    found: dict[tuple[str, str], dict[int, Child]] = {}
    for one in spotted:
        found.setdefault((one.kind, one.mistake), {})[one.child] = by_key[one.child]
    listed = [
        MistakeOfWeek(kind_kept(kind).title, words, list(those.values()))
        for (kind, mistake), those in found.items()
        if (words := words_of(Mistake(kind, mistake)))
    ]
    return sorted(listed, key=lambda one: -len(one.children))
