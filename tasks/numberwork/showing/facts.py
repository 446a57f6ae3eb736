"""What one question, or a set of them, can show: range, support, and what has to be seen."""

from __future__ import annotations

import re
from collections.abc import Collection
from dataclasses import dataclass, replace
from functools import lru_cache

from tasks.numberwork.kind import Ask, Kind
from tasks.numberwork.kinds import kind_kept
from tasks.numberwork.pictures import (
    NumberCards,
    NumberLine,
    NumeralTrace,
    PartWhole,
    PatternRow,
    Picture,
    ShapeCut,
    ShapeCutChoice,
)
from tasks.numberwork.pool import pool_of
from tasks.numberwork.prompt import CHALLENGE, WITH_SUPPORT, Answer, Prompt
from tasks.numberwork.showing.seen import GLIMPSED
from tasks.numberwork.showing.table import SHOWS, Shows

RANGES = (3, 5, 10, 20, 50, 100, 200)  # 3: what is seen at once in any layout
# Whatever else is drawn can be counted: things, dots, fingers, frames, a number line.
NOT_TO_COUNT = (NumberCards, NumeralTrace, PartWhole, PatternRow, ShapeCut, ShapeCutChoice)
SAID_TOGETHER = re.compile(
    r"\bwith me\b|\b(say|count|do|write|read|sing)\b[^.?!]*\btogether\b", re.IGNORECASE
)


@dataclass(frozen=True, slots=True)
class Facts:
    """What answers to a kind's questions of one form and range can show.

    reach: the range their largest number lies in. printed: support stands in the picture.
    countable: there is something to count along. together: an adult says or does it too.
    options: how many answers there are to choose from, 0 where it is free. further: harder than
    the usual. needs: one of these ways of seeing it is needed. known: whether the kind says all
    this of itself.
    """

    kind: str
    form: str
    reach: int
    printed: bool = False
    countable: bool = False
    together: bool = False
    options: int = 0
    further: bool = False
    needs: frozenset[str] = frozenset()
    known: bool = True


def range_of(number: int) -> int:
    """Return the range that *number* lies in, of `RANGES`; the last for what lies beyond.

    >>> range_of(4), range_of(5), range_of(11)
    (5, 5, 20)
    """
    return next((most for most in RANGES if number <= most), RANGES[-1])


def is_said_together(kind: Kind, say: str) -> bool:
    """Tell whether an adult who follows these words says or does it along with the child."""
    return kind.together or SAID_TOGETHER.search(say) is not None


def is_glimpsed(kind_name: str) -> bool:
    """Tell whether the pictures of a kind are to be seen for a moment only."""
    return GLIMPSED in SHOWS.get(kind_name, Shows()).needs


def facts_of(prompt: Prompt, say: str | None = None) -> Facts:
    """Return what an answer to *prompt* can show; *say*: the adult's words, where changed."""
    kind = kind_kept(prompt.kind)
    ask = Ask(
        prompt.form,
        prompt.fact,
        prompt.numbers,
        prompt.answer,
        {},
        answers=prompt.answers,
        choices=prompt.choices,
    )
    found = _facts(kind, ask, prompt.depth, prompt.picture)
    together = is_said_together(kind, kind.say if say is None else say)
    return replace(found, together=together)


@lru_cache(maxsize=2048)
def facts_of_form(kind_name: str, within: int, depth: str, form: str) -> Facts | None:
    """Return what a set of one form can show, at the most careful; None where it is not asked.

    Support that stands in any picture of the form counts for all; so does the smallest choice.
    """
    kind = kind_kept(kind_name)
    asks = [ask for ask in pool_of(kind_name, within, depth).asks if ask.form == form]
    if not asks:
        return None
    each = [_facts(kind, ask, depth, kind.picture(ask, depth, 0)) for ask in asks]
    return replace(
        each[0],
        reach=max(one.reach for one in each),
        printed=any(one.printed for one in each),
        countable=any(one.countable for one in each),
        options=min(one.options for one in each),
        together=is_said_together(kind, kind.say),
    )


def _facts(kind: Kind, ask: Ask, depth: str, picture: Picture | None) -> Facts:
    shows = SHOWS.get(kind.name, Shows())
    return Facts(
        kind=kind.name,
        form=ask.form,
        reach=range_of(_largest(ask)),
        printed=_is_printed(ask, depth, picture, shows.in_picture),
        countable=picture is not None and not isinstance(picture, NOT_TO_COUNT),
        options=len(ask.choices) or shows.options.get(ask.form, 0),
        further=depth == CHALLENGE,
        needs=shows.needs,
        known=kind.name in SHOWS,
    )


def _is_printed(ask: Ask, depth: str, picture: Picture | None, in_picture: Collection[str]) -> bool:
    """Tell whether the picture helps to the answer: jumps drawn, or what is drawn as support."""
    if isinstance(picture, NumberLine) and picture.jumps:
        return True
    return depth == WITH_SUPPORT and picture is not None and ask.form not in in_picture


def _largest(ask: Ask) -> int:
    """Return the largest number that is asked about: given, answered, or only drawn."""
    drawn = map(int, re.findall(r"\d+", ask.fact))
    return max((*ask.numbers, *_numbers(ask.answer), *drawn), default=0)


def _numbers(answer: Answer) -> tuple[int, ...]:
    """Return the numbers in an answer; none of a word or sign."""
    if isinstance(answer, tuple):
        return answer
    return (answer,) if isinstance(answer, int) else ()
