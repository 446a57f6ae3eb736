"""Every English phrase that a family reads or hears on a card, besides the prompts themselves."""

from __future__ import annotations

from collections.abc import Iterator

from tasks.numberwork.cautions import CAUTIONS
from tasks.numberwork.kinds import EVERY_KIND
from tasks.numberwork.kinds.estimating import CHOICES as ESTIMATES
from tasks.numberwork.kinds.matching import CUPS, SPOONS
from tasks.numberwork.kinds.ordinals import PLACES
from tasks.numberwork.kinds.patterns import THINGS_USED
from tasks.numberwork.kinds.story_problems import STOCK
from tasks.numberwork.pictures import HALF_CUTS, NOT_HALF_CUTS
from tasks.numberwork.pictures.cuts import CUTS
from tasks.numberwork.pictures.halves import shape_named
from tasks.numberwork.pictures.tracing import WAYS
from tasks.numberwork.showing.requests import request_phrases
from tasks.numberwork.try_at_home import phrases_of_tries

CHOICES = (
    "odd",
    "even",
    "yes",
    "no",
    "left",
    "right",
    "the same",
    "more",
    "fewer",
    SPOONS,
    CUPS,
    *ESTIMATES,
    *PLACES,
)


def family_phrases() -> tuple[str, ...]:
    """List the phrases that a table of words must have, each once."""
    return tuple(dict.fromkeys(phrase for phrase in _phrases() if phrase))


def _phrases() -> Iterator[str]:
    """List them group by group: what belongs to a kind comes together."""
    for kind in EVERY_KIND.values():
        yield from (kind.title, kind.practises, *kind.fetch, kind.say, kind.right)
    yield from (caution.order for caution in CAUTIONS.values())
    yield from CHOICES
    yield from THINGS_USED
    yield from (place for _thing, place in STOCK)
    yield from (shape_named(shape) for shape, _cut, _level in (*HALF_CUTS, *NOT_HALF_CUTS))
    yield from (cut.words for cut in CUTS.values())
    yield from WAYS.values()
    yield from phrases_of_tries()
    yield from request_phrases()
