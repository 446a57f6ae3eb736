"""The order of steps towards a focus, written down with where it comes from.

Where no source is named the order is common practice. That a written order beats none is itself
little proven: of 23 studies none tested a progression against no progression (NCEE 2014-4005,
*Teaching Math to Young Children*, which still recommends one).
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from tasks.numberwork.kinds import EVERY_KIND, KINDS
from tasks.numberwork.prompt import CHALLENGE, CORE, DEPTHS, WITH_SUPPORT
from tasks.numberwork.sequences.ladder import SmallStep, ladder, walk

PRACTICE = "common practice, no source"
TABLE_1 = "Common Core Table 1 and the OA Progressions: the four first situations before the others"
JANSEN = "Jansen et al. 2014: to three in any layout, four and five in patterns; else " + PRACTICE
FOCUS = 0.8  # of the days, at least, the main task is the focus itself
COUNT_TO = {"twos": 20, "fives": 50, "tens": 100}
# What lies beyond the goals of the year, so that a teacher knows. Source: the statutory framework
# for the early years foundation stage (England, 2024) has no signs for dividing among its early
# learning goals; the national curriculum (mathematics programmes of study, England, 2013) brings
# the sign ÷ in year 2.
BEYOND = {
    "halving-number-sentence": "Writing it as ÷ 2 lies beyond this year's statutory goals: in "
    "England the sign ÷ comes in year 2. Leave it out, or keep it for children who are ready.",
}
# What a story is about that ends the days on a focus: without a word here, adding more.
STORIES = {"taking-away": "take from, result unknown"}
MAKING = (
    "Rittle-Johnson et al. 2013 (from memory): a pattern is gone on with, then made of other "
    "things, and its part that repeats is found last; else " + PRACTICE
)
KNUDSEN = "Knudsen et al. 2015: cards in order come late, so comparing goes first; else " + PRACTICE


@dataclass(frozen=True, slots=True)
class Step:
    """One step of a route: a kind at a depth. A step that may be left out is not needed."""

    kind: str
    depth: str
    needed: bool = True


@dataclass(frozen=True, slots=True)
class Route:
    """The steps towards a focus, the kinds that come before it, and where the order is from.

    at_home: a kind that is tried at home on the first days of the focus, in place of its own.
    """

    focus: str
    before: tuple[str, ...]
    steps: tuple[Step, ...]
    source: str = PRACTICE
    at_home: str = ""

    def over(self, days: int, within: int) -> tuple[SmallStep, ...]:
        """Return the main task of each of *days*, each one step on, in numbers up to *within*.

        The focus has at least four days of five. Beside it come the needed steps to it and, where
        there is room, those that may be left out: a day each, before it or after it.
        """
        others = [step for step in self.steps if step.kind != self.focus]
        room = days - math.ceil(days * FOCUS)
        kept = [step for step in others if step.needed]
        kept += [step for step in others if not step.needed][: max(0, room - len(kept))]
        first = self.steps.index(next(step for step in self.steps if step.kind == self.focus))
        lead = [step for step in self.steps[:first] if step in kept]
        last = [step for step in self.steps[first:] if step in kept]
        own = ladder(self.focus, fitting_range(self.focus, within))
        return (
            *(self._one_day(step, within) for step in lead),
            *walk(own, days - len(lead) - len(last)),
            *(self._one_day(step, within) for step in last),
        )

    def _one_day(self, step: Step, within: int) -> SmallStep:
        """Return a step that has one day: the first that its kind has at that depth.

        A story is of the sort that fits the focus.
        """
        steps = ladder(step.kind, fitting_range(step.kind, within), (step.depth,))
        story = STORIES.get(self.focus) if step.kind == "story-problems" else None
        return next((each for each in steps if each.only.forms == (story,)), steps[0])


def fitting_range(kind: str, within: int) -> int:
    """Return the largest range of a kind up to *within*, or its smallest.

    Counts in steps go further than the numbers a class adds and shares: to COUNT_TO at least.
    """
    ranges = EVERY_KIND[kind].ranges
    most = max(within, COUNT_TO.get(kind.rpartition("-in-")[2], 0))
    return max((size for size in ranges if size <= most), default=ranges[0])


_MARKS = {"+": WITH_SUPPORT, "": CORE, "!": CHALLENGE}


def _route(focus: str, before: str, steps: str, source: str = PRACTICE, at_home: str = "") -> Route:
    """Read a route: kinds in order, + with support, ! challenge, (…) may be left out.

    The word "focus" stands for the focus at its three depths.
    """
    read = []
    for word in steps.replace("focus", f"{focus}+ {focus} {focus}!").split():
        name = word.strip("()")
        mark = name[-1] if name[-1] in "+!" else ""
        read.append(Step(name.rstrip("+!"), _MARKS[mark], not word.startswith("(")))
    return Route(focus, tuple(before.split()), tuple(read), source, at_home)


_WRITTEN = (
    _route("counting-on-in-ones", "counting-amounts subitising", "focus"),
    _route("counting-on-in-twos", "counting-on-in-ones doubling", "focus"),
    _route("counting-on-in-fives", "counting-on-in-ones counting-on-in-tens", "focus"),
    _route("counting-on-in-tens", "counting-on-in-ones counting-amounts", "focus"),
    _route(
        "number-names",
        "counting-on-in-ones counting-on-in-tens hundred-square",
        "(counting-on-in-tens) focus",
    ),
    _route("one-more", "counting-on-in-ones subitising", "focus"),
    _route("one-less", "one-more counting-on-in-ones", "(counting-back-in-ones+) focus"),
    _route("subitising", "counting-amounts counting-on-in-ones", "focus", JANSEN),
    _route("number-bonds", "subitising one-more", "focus (missing-part+)"),
    _route("adding", "subitising one-more counting-on-in-ones", "focus (story-problems+)"),
    _route("taking-away", "one-less adding", "(one-less) focus (story-problems+)"),
    _route("missing-part", "number-bonds adding", "(number-bonds+) focus"),
    _route("doubling", "subitising adding", "focus"),
    _route(
        "halving",
        "doubling number-bonds adding",
        "sharing-equally+ focus (halving-number-sentence+)",
        at_home="halves-of-shapes",
    ),
    _route(
        "halving-number-sentence",
        "doubling halving",
        "sharing-equally+ halving focus",
        at_home="halves-of-shapes",
    ),
    _route("sharing-equally", "counting-amounts doubling", "focus"),
    _route("odd-or-even", "doubling counting-on-in-twos", "(sharing-equally+) focus"),
    _route("can-it-be-halved", "halving sharing-equally", "sharing-equally+ focus"),
    _route("counting-sounds", "counting-amounts subitising", "focus"),
    _route("matching", "counting-amounts subitising", "focus"),
    _route("comparing", "counting-amounts subitising", "focus"),
    _route("comparing-signs", "comparing one-more", "(comparing) focus"),
    _route("ordering", "comparing one-more", "(comparing+) focus", KNUDSEN),
    _route("halves-of-shapes", "sharing-equally doubling", "focus"),
    _route(
        "making-patterns",
        "repeating-patterns counting-amounts",
        "(repeating-patterns) focus",
        MAKING,
    ),
    _route("story-problems", "adding taking-away number-bonds", "focus", TABLE_1),
    _route("number-stories", "adding taking-away story-problems", "(story-problems+) focus"),
)


def _plain_route(name: str) -> Route:
    """Return the route of a kind without one of its own: its three depths in turn."""
    steps = tuple(Step(name, depth) for depth in DEPTHS)
    return Route(name, ("counting-on-in-ones", "subitising"), steps)


ROUTES: Mapping[str, Route] = MappingProxyType(
    {name: _plain_route(name) for name in KINDS} | {route.focus: route for route in _WRITTEN}
)
