"""The figures of one week: for a child's family, a class, a group or a school."""

from collections import Counter
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from .mistakes import Course, courses
from .rows import Child, How, Mistake, Sent, Shown, Worked
from .weeks import DAY, Week


@dataclass(frozen=True, slots=True)
class ChildWeek:
    """One child's week.

    set_days: days with work set. due_days: those for which something could have come by now.
    sent_days, pieces: days for which something came, and how much.
    kinds: kinds of work done. goals: those tagged as shown in any way. new: those shown
    unaided for the first time. gone, stayed: mistakes that went in this week, and that keep
    coming at its end, each as `str(Mistake)`. told_days: days of which the home said that it
    could not be done. heard: whether anything came, or was said.
    """

    child: Child
    set_days: int
    sent_days: int
    pieces: int
    kinds: tuple[str, ...]
    goals: tuple[str, ...]
    new: tuple[str, ...]
    gone: tuple[str, ...]
    stayed: tuple[str, ...]
    told_days: int = 0
    due_days: int = 0

    @property
    def is_silent(self) -> bool:
        """Say whether something could have come, and nothing did."""
        return self.due_days > 0 and not self.heard

    @property
    def heard(self) -> bool:
        """Say whether the home was heard from: by work, or by saying that it could not be."""
        return self.pieces > 0 or self.told_days > 0


@dataclass(frozen=True, slots=True)
class WeekFigures:
    """A week of several children. goals, new, gone and stayed count children for each name.

    set_days adds up the children's days with work set, sent_days those on which something
    came. not_heard lists the children from whom nothing came though it could have.
    """

    children: int = 0
    heard: int = 0
    set_days: int = 0
    sent_days: int = 0
    pieces: int = 0
    goals: Mapping[str, int] = field(default_factory=dict)
    new: Mapping[str, int] = field(default_factory=dict)
    gone: Mapping[str, int] = field(default_factory=dict)
    stayed: Mapping[str, int] = field(default_factory=dict)
    not_heard: tuple[Child, ...] = ()


@dataclass(frozen=True, slots=True)
class Rows:
    """The plain rows of some children, of this week and, for tags and work, of those before.

    set_days: for each child the days with work set; due: those for which something could have
    come by now, all of them where it is not said. told: the days of which a home said that they
    could not be done; they count as heard from, and as nothing else.
    """

    set_days: Mapping[Child, Collection[date]]
    sent: Sequence[Sent] = ()
    shown: Sequence[Shown] = ()
    worked: Sequence[Worked] = ()
    told: Sequence[Sent] = ()
    due: Mapping[Child, Collection[date]] | None = None


def child_weeks(children: Sequence[Child], week: Week, rows: Rows) -> tuple[ChildWeek, ...]:
    """Reckon the *week* of each of *children*, in their order; linear in rows.

    Everything counts on the day it is for, whenever it came. Rows after the week, and of other
    children, are passed over.
    """
    sent: dict[Child, list[date]] = {child: [] for child in children}
    for row in rows.sent:
        if row.child in sent and row.on in week:
            sent[row.child].append(row.on)
    told = {(row.child, row.on) for row in rows.told if row.on in week}
    kinds = _names(children, ((row.child, row.kind) for row in rows.worked if row.on in week))
    shown = [row for row in rows.shown if row.how != How.NOT_YET and row.on <= week.sunday]
    goals = _names(children, ((row.child, row.goal) for row in shown if row.on in week))
    unaided = [row for row in shown if row.unaided]
    new = _names(children, ((row.child, row.goal) for row in unaided if row.on in week))
    known = _names(children, ((row.child, row.goal) for row in unaided if row.on < week.monday))
    due = rows.set_days if rows.due is None else rows.due
    before = courses(rows.worked, week.monday - DAY)
    after = courses(rows.worked, week.sunday)
    return tuple(
        ChildWeek(
            child=child,
            set_days=_days_in(week, rows.set_days.get(child, ())),
            due_days=_days_in(week, due.get(child, ())),
            sent_days=len(set(sent[child])),
            pieces=len(sent[child]),
            kinds=tuple(kinds[child]),
            goals=tuple(goals[child]),
            new=tuple(goal for goal in new[child] if goal not in known[child]),
            gone=_gone(before.get(child, {}), after.get(child, {})),
            stayed=_with(after.get(child, {}), Course.KEEPS_COMING),
            told_days=sum(name == child for name, _day in told),
        )
        for child in children
    )


def _days_in(week: Week, days: Iterable[date]) -> int:
    return sum(day in week for day in set(days))


def add_up(weeks: Iterable[ChildWeek]) -> WeekFigures:
    """Add up children's weeks for a family, a group or a class."""
    weeks = list(weeks)
    return WeekFigures(
        children=len(weeks),
        heard=sum(one.heard for one in weeks),
        set_days=sum(one.set_days for one in weeks),
        sent_days=sum(one.sent_days for one in weeks),
        pieces=sum(one.pieces for one in weeks),
        goals=_count(one.goals for one in weeks),
        new=_count(one.new for one in weeks),
        gone=_count(one.gone for one in weeks),
        stayed=_count(one.stayed for one in weeks),
        not_heard=tuple(one.child for one in weeks if one.is_silent),
    )


def combine(figures: Iterable[WeekFigures]) -> WeekFigures:
    """Add classes' figures up for a school, one at a time, keeping no child's name."""
    total = WeekFigures()
    for one in figures:
        total = WeekFigures(
            children=total.children + one.children,
            heard=total.heard + one.heard,
            set_days=total.set_days + one.set_days,
            sent_days=total.sent_days + one.sent_days,
            pieces=total.pieces + one.pieces,
            goals=Counter(total.goals) + Counter(one.goals),
            new=Counter(total.new) + Counter(one.new),
            gone=Counter(total.gone) + Counter(one.gone),
            stayed=Counter(total.stayed) + Counter(one.stayed),
        )
    return total


def _names(
    children: Sequence[Child], pairs: Iterable[tuple[Child, str]]
) -> dict[Child, dict[str, None]]:
    found: dict[Child, dict[str, None]] = {child: {} for child in children}
    for child, name in pairs:
        if child in found:
            found[child][name] = None
    return found


def _count(names: Iterable[Iterable[str]]) -> Mapping[str, int]:
    return Counter(name for each in names for name in each)


def _gone(before: Mapping[Mistake, Course], after: Mapping[Mistake, Course]) -> tuple[str, ...]:
    went = {mistake: course for mistake, course in after.items() if before.get(mistake) != course}
    return _with(went, Course.GONE)


def _with(found: Mapping[Mistake, Course], course: Course) -> tuple[str, ...]:
    return tuple(str(mistake) for mistake, its in found.items() if its == course)
