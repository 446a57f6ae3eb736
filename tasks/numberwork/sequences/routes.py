"""The order of steps towards a focus, written down with where it comes from.

Where no source is named the order is common practice. That a written order beats none is itself
little proven: of 23 studies none tested a progression against no progression (NCEE 2014-4005,
*Teaching Math to Young Children*, which still recommends one).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from tasks.numberwork.kinds import KINDS
from tasks.numberwork.prompt import CHALLENGE, CORE, DEPTHS, WITH_SUPPORT

PRACTICE = "common practice, no source"
TABLE_1 = "Common Core Table 1 and the OA Progressions: the four first situations before the others"
JANSEN = "Jansen et al. 2014: to three in any layout, four and five in patterns; else " + PRACTICE
KNUDSEN = "Knudsen et al. 2015: cards in order come late, so comparing goes first; else " + PRACTICE


@dataclass(frozen=True, slots=True)
class Step:
    """One step of a route: a kind at a depth. A step that may be left out is not needed."""

    kind: str
    depth: str
    needed: bool = True


@dataclass(frozen=True, slots=True)
class Route:
    """The steps towards a focus, the kinds that come before it, and where the order is from."""

    focus: str
    before: tuple[str, ...]
    steps: tuple[Step, ...]
    source: str = PRACTICE

    def over(self, days: int) -> tuple[Step, ...]:
        """Return the step of each day: needed ones first, each step for as many days as fit."""
        needed = [step for step in self.steps if step.needed]
        steps = self.steps if days >= len(self.steps) else tuple(needed)[:days]
        return tuple(steps[day * len(steps) // days] for day in range(days))


_MARKS = {"+": WITH_SUPPORT, "": CORE, "!": CHALLENGE}


def _route(focus: str, before: str, steps: str, source: str = PRACTICE) -> Route:
    """Read a route: kinds in order, + with support, ! challenge, (…) may be left out."""
    read = []
    for word in steps.split():
        name = word.strip("()")
        mark = name[-1] if name[-1] in "+!" else ""
        read.append(Step(name.rstrip("+!"), _MARKS[mark], not word.startswith("(")))
    return Route(focus, tuple(before.split()), tuple(read), source)


_WRITTEN = (
    _route(
        "counting-on-in-ones",
        "counting-amounts subitising",
        "counting-on-in-ones+ counting-on-in-ones (one-more) missing-number+ (missing-number) "
        "hundred-square+ counting-on-in-ones!",
    ),
    _route(
        "counting-on-in-twos",
        "counting-on-in-ones doubling",
        "counting-on-in-twos+ counting-on-in-twos (odd-or-even+) missing-number "
        "counting-on-in-twos!",
    ),
    _route(
        "counting-on-in-fives",
        "counting-on-in-ones counting-on-in-tens",
        "counting-on-in-fives+ counting-on-in-fives (hundred-square+) missing-number "
        "counting-on-in-fives!",
    ),
    _route(
        "counting-on-in-tens",
        "counting-on-in-ones counting-amounts",
        "counting-on-in-tens+ counting-on-in-tens (hundred-square) missing-number "
        "counting-on-in-tens!",
    ),
    _route(
        "one-more",
        "counting-on-in-ones subitising",
        "counting-on-in-ones+ one-more+ one-more (hundred-square+) one-less+ one-more!",
    ),
    _route(
        "one-less",
        "one-more counting-on-in-ones",
        "counting-back-in-ones+ one-less+ one-less (missing-number) one-less!",
    ),
    _route(
        "subitising",
        "counting-amounts counting-on-in-ones",
        "subitising+ subitising (counting-amounts) number-of-the-day+ subitising!",
        JANSEN,
    ),
    _route(
        "number-bonds",
        "subitising one-more",
        "subitising number-bonds+ number-bonds (missing-part+) (story-problems) number-bonds!",
    ),
    _route(
        "adding",
        "subitising one-more counting-on-in-ones",
        "one-more adding+ (story-problems+) adding (number-bonds+) adding!",
    ),
    _route(
        "taking-away",
        "one-less adding",
        "one-less taking-away+ (story-problems+) taking-away taking-away!",
    ),
    _route(
        "missing-part",
        "number-bonds adding",
        "number-bonds missing-part+ missing-part (taking-away) missing-part!",
    ),
    _route(
        "doubling",
        "subitising adding",
        "subitising doubling+ doubling (counting-on-in-twos) (number-bonds) doubling!",
    ),
    _route(
        "halving",
        "doubling number-bonds adding",
        "doubling (sharing-equally+) halves-of-shapes+ halving+ halving (can-it-be-halved) "
        "halving-number-sentence+ (halving-number-sentence) (halving!)",
    ),
    _route(
        "halving-number-sentence",
        "doubling halving",
        "doubling halving+ (halving) halving-number-sentence+ halving-number-sentence "
        "(can-it-be-halved) halving-number-sentence!",
    ),
    _route(
        "sharing-equally",
        "counting-amounts doubling",
        "sharing-equally+ (halving+) sharing-equally (can-it-be-halved+) sharing-equally!",
    ),
    _route(
        "odd-or-even",
        "doubling counting-on-in-twos",
        "counting-on-in-twos+ odd-or-even+ (can-it-be-halved+) odd-or-even odd-or-even!",
    ),
    _route(
        "can-it-be-halved",
        "halving sharing-equally",
        "halving odd-or-even+ can-it-be-halved+ can-it-be-halved (odd-or-even) can-it-be-halved!",
    ),
    _route(
        "comparing",
        "counting-amounts subitising",
        "comparing+ comparing (one-more) (ordering+) comparing!",
    ),
    _route(
        "comparing-signs",
        "comparing one-more",
        "comparing comparing-signs+ comparing-signs (ordering+) comparing-signs!",
    ),
    _route(
        "ordering",
        "comparing one-more",
        "comparing+ comparing ordering+ ordering (missing-number) ordering!",
        KNUDSEN,
    ),
    _route(
        "halves-of-shapes",
        "sharing-equally doubling",
        "halves-of-shapes+ halves-of-shapes (halving+) halves-of-shapes!",
    ),
    _route(
        "story-problems",
        "adding taking-away number-bonds",
        "story-problems+ (taking-away+) story-problems (missing-part) story-problems!",
        TABLE_1,
    ),
)


def _plain_route(name: str) -> Route:
    """Return the route of a kind without one of its own: its three depths in turn."""
    steps = tuple(Step(name, depth) for depth in DEPTHS)
    return Route(name, ("counting-on-in-ones", "subitising"), steps)


ROUTES: Mapping[str, Route] = MappingProxyType(
    {name: _plain_route(name) for name in KINDS} | {route.focus: route for route in _WRITTEN}
)
