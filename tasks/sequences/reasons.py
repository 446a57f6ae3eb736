"""Why each part of a sequence is there, in a few words for the teacher."""

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from tasks.cards.wording import EXPLAINED
from tasks.models import Task
from tasks.numberwork import DEPTHS, kind_kept
from tasks.numberwork.sequences.only import Only
from tasks.numberwork.sequences.routes import BEYOND

Part = Task.Part


@dataclass(frozen=True, slots=True)
class Met:
    """When a kind was met last, and how: depth and range where that is known."""

    date: dt.date
    depth: str = ""
    within: int = 0


class Reasons:
    """Say why, day by day and in order: each part is new, comes back, or goes one step on.

    before: the kinds that the class was set before the first day, with the last date of each.
    known: kinds the teacher says it knows.
    """

    def __init__(self, before: Mapping[str, dt.date], known: Iterable[str]) -> None:
        self._met = {kind: Met(date) for kind, date in before.items()}
        self._known = set(known)
        self._mains: list[Task] = []

    def of_day(self, tasks: Iterable[Task]) -> dict[int, str]:
        """Return the reason for each part of the next day by its primary key.

        Groups' versions need none of their own: they are there for their depth.
        """
        own = [task for task in tasks if task.group_id is None]
        main = next((task for task in own if task.part == Part.MAIN_TASK), None)
        said = {task.pk: self._why(task, main) for task in own}
        self.meet(own)
        if main:
            self._mains.append(main)
        return said

    def meet(self, tasks: Iterable[Task]) -> None:
        """Note the kinds of a day."""
        for task in tasks:
            self._met[task.kind] = Met(task.day_plan.date, task.depth, task.within)

    def _why(self, task: Task, main: Task | None) -> str:
        if task.part == Part.NUMBER_OF_THE_DAY and kind_kept(task.kind).one_number:
            return _("you chose it") if task.number else _("another number each day")
        if task.part == Part.TRY_AT_HOME and main and task.kind == main.kind:
            return _("the main task, with things at home")
        if task.part == Part.MAIN_TASK:
            return " ".join(filter(None, (self._why_main(task), beyond(task.kind))))
        return self._since(task)

    def _why_main(self, task: Task) -> str:
        """Say what the main task adds to the main tasks before it."""
        before = next((main for main in reversed(self._mains) if main.kind == task.kind), None)
        if before is None:
            return self._new_step(task)
        steps = DEPTHS.index(task.depth) - DEPTHS.index(before.depth)
        said = {"day": _weekday(before), "depth": task.get_depth_display()}
        if steps > 0:
            return _("one step on from %(day)s: %(depth)s") % said
        if steps < 0:
            return _("not as hard as on %(day)s: %(depth)s") % said
        if change := change_since(before, task):
            return _("one step on from %(day)s: %(change)s") % {**said, "change": change}
        if before is self._mains[-1]:
            return _("again, as on %(day)s") % said
        return self._since(task)

    def _new_step(self, task: Task) -> str:
        """Say of the first main task of its kind whether the kind is new."""
        if task.kind in self._met or task.kind in self._known:
            return self._since(task)
        if not self._mains:
            return _("new")
        return _("new, one step on from %(day)s") % {"day": _weekday(self._mains[-1])}

    def _since(self, task: Task) -> str:
        """Say how long ago the kind was met, or that it is new."""
        met = self._met.get(task.kind)
        if met is None:
            return _("met before") if task.kind in self._known else _("new")
        if met.within and task.within > met.within:
            return _("further than on %(day)s") % {"day": date_format(met.date, "l")}
        days = (task.day_plan.date - met.date).days
        return ngettext("back after %(days)s day", "back after %(days)s days", days) % {
            "days": days
        }


def change_since(before: Task, task: Task) -> str:
    """Say what is one step on in *task*, of the kind and depth of *before*; "" for nothing."""
    then, now = Only.read(before.only), Only.read(task.only)
    if str(EXPLAINED) == task.words != before.words:
        return _("explained")
    if now.forms != then.forms:
        return _("another way of asking")
    if (task.within, now.least) > (before.within, then.least):
        return _("larger numbers")
    return ""


def beyond(kind: str) -> str:
    """Say to the teacher where a kind lies beyond the goals of the year; "" where it does not."""
    return f"({BEYOND[kind]})" if kind in BEYOND else ""


def _weekday(task: Task) -> str:
    return date_format(task.day_plan.date, "l")
