"""How far a goal was shown, at most: no more is suggested than was seen, and the reason is given.

Common practice, no source: three right answers for *independently*, two for *with support*;
three in four of them right, or half; and as many as a guesser gets once in ten at most. What was
seen less, or answered less rightly, never suggests more: an answer that does not count where it
is right counts where it is wrong.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum

from .asked import Asked
from .work import A_LITTLE, ALONE, NOT_SAID, Work

NOT_YET, WITH_SUPPORT, INDEPENDENTLY = "not yet", "with support", "independently"
FEWEST = {INDEPENDENTLY: 3, WITH_SUPPORT: 2}
SHARE = {INDEPENDENTLY: 0.75, WITH_SUPPORT: 0.5}
FEWEST_NOT_YET = 3
REACHED_BY = 2  # right answers in the range that a goal asks for
GUESSED_AT_MOST = 0.1
USUAL_REACH = 10  # of a goal that says none: the numbers of this year (the early learning goals)


class Bar(StrEnum):
    """What keeps work from showing a goal, or from showing more of it."""

    NOT_KNOWN = "not known"
    PART_ONLY = "part only"
    BEYOND = "beyond"
    PRINTED = "printed"
    COUNTABLE = "countable"
    NOT_SEEN = "not seen"
    NOT_GLIMPSED = "not glimpsed"
    NOT_HEARD = "not heard"
    NOT_MADE = "not made"
    NOT_WRITTEN = "not written"
    NOT_HEARD_SO_FAR = "not heard so far"
    # What keeps it from being shown independently.
    SAID_TOGETHER = "said together"
    HELP_NOT_SAID = "help not said"
    HELPED_A_LITTLE = "helped a little"
    HELPED = "helped"
    # What the answers themselves lack.
    NOT_SO_FAR = "not so far"
    FEW = "few"
    GUESSING = "guessing"
    WRONG = "wrong"


# About other work than the goal's: whether it is right or wrong says nothing here.
ELSEWHERE = (Bar.NOT_KNOWN, Bar.PART_ONLY, Bar.BEYOND)
UNSEEN = {
    "glimpsed": Bar.NOT_GLIMPSED,
    "heard": Bar.NOT_HEARD,
    "made": Bar.NOT_MADE,
    "written": Bar.NOT_WRITTEN,
}


@dataclass(frozen=True, slots=True)
class Suggested:
    """How a goal was shown, at most; how is "" where nothing is suggested.

    why: what is missing for it, or for more; None where nothing is. right of asked: the answers
    that count. work: what the reason is about.
    """

    how: str
    why: Bar | None
    right: int
    asked: int
    work: Work


@dataclass(frozen=True, slots=True)
class Judged:
    """A piece of work, and what keeps it from counting; None where it counts."""

    work: Work
    bar: Bar | None


@dataclass(frozen=True, slots=True)
class Counted:
    """What counts of one piece of work: its right answers, out of so many."""

    work: Work
    right: int
    asked: int


def suggest(asked: Asked, kinds: Sequence[str], works: Iterable[Work]) -> Suggested | None:
    """Say how *works* show a goal that names *kinds* and asks this; None where none is about it."""
    names = tuple(kinds)
    about = [work for work in works if work.asked and asked.is_about(work.kind, names)]
    if not about:
        return None
    judged = [Judged(work, _bar(asked, names, work)) for work in about]
    alone = [Judged(one.work, one.bar or _bar_alone(asked, one.work)) for one in judged]
    lacks_alone = _lack(asked, INDEPENDENTLY, alone)
    if lacks_alone is None:
        return _made(INDEPENDENTLY, None, alone)
    lacks = _lack(asked, WITH_SUPPORT, judged)
    if lacks is None:
        pairs = zip(judged, alone, strict=True)
        held_back = [one for base, one in pairs if base.bar is None and one.bar]
        return _made(WITH_SUPPORT, held_back[0].bar if held_back else lacks_alone, alone, judged)
    if _is_not_yet(asked, judged):
        return _made(NOT_YET, None, judged)
    return _made("", lacks, judged)


def _bar(asked: Asked, kinds: tuple[str, ...], work: Work) -> Bar | None:
    """Say why right answers of *work* do not show the goal at all; None where they may."""
    checks = (
        (Bar.NOT_KNOWN, not work.known),
        (Bar.PART_ONLY, not asked.is_shown_by(work.kind, work.form, kinds)),
        (Bar.BEYOND, 0 < asked.most < work.reach),
        (Bar.PRINTED, work.printed),
        (Bar.COUNTABLE, asked.without_aids and work.countable),
        (Bar.NOT_SEEN, not work.seen),
    )
    found = next((bar for bar, holds in checks if holds), None)
    unseen = _unseen(work.needs, work) or _unseen(asked.seen, work)
    if found or unseen:
        return found or unseen
    heard_to = min(work.heard_to, work.reach)
    return Bar.NOT_HEARD_SO_FAR if heard_to < asked.heard_to else None


def _bar_alone(asked: Asked, work: Work) -> Bar | None:
    """Say why *work*, which may show the goal, does not show it independently."""
    if work.together:
        return Bar.SAID_TOGETHER
    if work.help != ALONE:
        said = {NOT_SAID: Bar.HELP_NOT_SAID, A_LITTLE: Bar.HELPED_A_LITTLE}
        return said.get(work.help, Bar.HELPED)
    return _unseen(asked.seen_alone, work)


def _unseen(ways: Iterable[str], work: Work) -> Bar | None:
    """Say what had to be seen in one of these *ways* and was not."""
    wanted = sorted(ways)
    return UNSEEN[wanted[0]] if wanted and work.ways.isdisjoint(wanted) else None


def _lack(asked: Asked, how: str, judged: list[Judged]) -> Bar | None:
    """Say what the answers lack for the goal to be shown in this way; None where nothing."""
    if all(one.bar for one in judged):
        return judged[0].bar
    counted = _counted(judged)
    known = _without_guesses(counted)
    lack = _lack_of(how, known, FEWEST[how], Bar.FEW)
    if lack is None and asked.reach:
        far = [one for one in known if one.work.reach >= asked.reach]
        lack = _lack_of(how, far, REACHED_BY, Bar.NOT_SO_FAR)
    if lack and known != counted and _lack_of(how, counted, FEWEST[how], Bar.FEW) is None:
        return Bar.GUESSING
    return lack


def _lack_of(how: str, counted: list[Counted], fewest: int, too_few: Bar) -> Bar | None:
    """Say whether too few of these answers are right, or too many wrong."""
    right, asked = sum(one.right for one in counted), sum(one.asked for one in counted)
    if asked >= fewest and right < SHARE[how] * asked:
        return Bar.WRONG
    return too_few if right < fewest else None


def _counted(judged: list[Judged]) -> list[Counted]:
    """Count right and wrong answers of what shows the goal, and of the rest the wrong ones."""
    return [
        _wrong_of(one.work) if one.bar else Counted(one.work, one.work.right, one.work.asked)
        for one in judged
        if one.bar not in ELSEWHERE
    ]


def _wrong_of(work: Work) -> Counted:
    return Counted(work, 0, work.asked - work.right)


def _without_guesses(counted: list[Counted]) -> list[Counted]:
    """Leave out right choices where a child who guesses would get as many right."""
    chosen = [one for one in counted if one.work.options]
    if _chance_of(chosen) <= GUESSED_AT_MOST:
        return counted
    return [_wrong_of(one.work) if one.work.options else one for one in counted]


def _chance_of(chosen: list[Counted]) -> float:
    """Return how likely a guesser has at least as many right; 1 where there is no choice."""
    chances = [1.0]  # of 0, 1, 2 … right
    for one in chosen:
        right = 1 / one.work.options
        for _answer in range(one.asked):
            less = [*chances, 0.0]
            more = [0.0, *chances]
            chances = [a * (1 - right) + b * right for a, b in zip(less, more, strict=True)]
    return sum(chances[sum(one.right for one in chosen) :])


def _is_not_yet(asked: Asked, judged: list[Judged]) -> bool:
    """Tell whether most was wrong where nothing was harder than the goal asks."""
    most = asked.reach or USUAL_REACH
    fair = [
        one.work
        for one in judged
        if not one.bar and not one.work.further and one.work.reach <= most
    ]
    total = sum(work.asked for work in fair)
    return total >= FEWEST_NOT_YET and 2 * sum(work.right for work in fair) < total


def _made(
    how: str, why: Bar | None, judged: list[Judged], counts: list[Judged] | None = None
) -> Suggested:
    """Put a suggestion together, with the answers that count for it: all, where none do."""
    works = [one.work for one in counts or judged if not one.bar]
    works = works or [one.work for one in judged]
    about = next((one.work for one in judged if why and one.bar == why), works[0])
    right, total = sum(work.right for work in works), sum(work.asked for work in works)
    return Suggested(how, why, right, total, about)
