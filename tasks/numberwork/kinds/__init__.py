"""Every kind of prompt, by name: those that are answered, and those done together."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType

from tasks.numberwork.kind import Ask, Kind
from tasks.numberwork.kinds.adding import ADDING
from tasks.numberwork.kinds.comparing import COMPARING
from tasks.numberwork.kinds.comparing_signs import COMPARING_SIGNS
from tasks.numberwork.kinds.count_out import COUNT_OUT
from tasks.numberwork.kinds.counting import COUNTING
from tasks.numberwork.kinds.counting_amounts import COUNTING_AMOUNTS
from tasks.numberwork.kinds.counting_sounds import COUNTING_SOUNDS
from tasks.numberwork.kinds.doubling import DOUBLING
from tasks.numberwork.kinds.estimating import ESTIMATING
from tasks.numberwork.kinds.finger_doubles import FINGER_DOUBLES
from tasks.numberwork.kinds.halving import HALVING, HALVING_NUMBER_SENTENCE
from tasks.numberwork.kinds.hundred_square import HUNDRED_SQUARE
from tasks.numberwork.kinds.making_patterns import MAKING_PATTERNS
from tasks.numberwork.kinds.matching import MATCHING
from tasks.numberwork.kinds.missing_number import MISSING_NUMBER
from tasks.numberwork.kinds.missing_part import MISSING_PART
from tasks.numberwork.kinds.number_bonds import NUMBER_BONDS
from tasks.numberwork.kinds.number_formation import NUMBER_FORMATION
from tasks.numberwork.kinds.number_names import NUMBER_NAMES
from tasks.numberwork.kinds.number_of_the_day import NUMBER_OF_THE_DAY
from tasks.numberwork.kinds.number_stories import NUMBER_STORIES
from tasks.numberwork.kinds.odd_even import CAN_IT_BE_HALVED, ODD_OR_EVEN
from tasks.numberwork.kinds.one_more import ONE_LESS, ONE_MORE
from tasks.numberwork.kinds.ordering import ORDERING
from tasks.numberwork.kinds.ordinals import ORDINALS
from tasks.numberwork.kinds.patterns import REPEATING_PATTERNS
from tasks.numberwork.kinds.shapes import HALVES_OF_SHAPES
from tasks.numberwork.kinds.sharing import SHARING_EQUALLY
from tasks.numberwork.kinds.still_the_same import STILL_THE_SAME
from tasks.numberwork.kinds.story_problems import STORY_PROBLEMS
from tasks.numberwork.kinds.subitising import SUBITISING
from tasks.numberwork.kinds.taking_away import TAKING_AWAY
from tasks.numberwork.kinds.together import COUNTING_ALOUD, NUMBER_SHOWN

_ALL = (
    *COUNTING,
    COUNTING_AMOUNTS,
    COUNT_OUT,
    COUNTING_SOUNDS,
    STILL_THE_SAME,
    ESTIMATING,
    MISSING_NUMBER,
    NUMBER_NAMES,
    HUNDRED_SQUARE,
    NUMBER_FORMATION,
    ONE_MORE,
    ONE_LESS,
    NUMBER_OF_THE_DAY,
    SUBITISING,
    NUMBER_BONDS,
    ADDING,
    TAKING_AWAY,
    MISSING_PART,
    FINGER_DOUBLES,
    DOUBLING,
    HALVING,
    HALVING_NUMBER_SENTENCE,
    SHARING_EQUALLY,
    ODD_OR_EVEN,
    CAN_IT_BE_HALVED,
    MATCHING,
    COMPARING,
    COMPARING_SIGNS,
    ORDERING,
    ORDINALS,
    HALVES_OF_SHAPES,
    REPEATING_PATTERNS,
    MAKING_PATTERNS,
    STORY_PROBLEMS,
    NUMBER_STORIES,
)

KINDS: Mapping[str, Kind] = MappingProxyType({kind.name: kind for kind in _ALL})
# Done together, with nothing to answer: for a warm-up and the number of the day.
TOGETHER: Mapping[str, Kind] = MappingProxyType(
    {kind.name: kind for kind in (*COUNTING_ALOUD, NUMBER_SHOWN)}
)
EVERY_KIND: Mapping[str, Kind] = MappingProxyType({**KINDS, **TOGETHER})


def kind_kept(name: str) -> Kind:
    """Return the kind of that *name* as old work keeps it; a wordless one where it is gone.

    The one way from a stored name to a kind: what was set once is read for years, and a later
    program may have dropped or renamed its kind. Such a kind goes by its name and asks nothing.

    >>> kind_kept("halving").title, kind_kept("moons").title, kind_kept("moons").fetch
    ('Halving', 'moons', ())
    """
    return EVERY_KIND.get(name) or _gone(name)


def _gone(name: str) -> Kind:
    """Return a kind that has nothing but its name."""
    return Kind(
        name=name,
        title=name,
        practises="",
        ranges=(),
        example="",
        forms={},
        mistakes={},
        depths={},
        fetch=(),
        say="",
        right="",
        asks=_asks_nothing,
    )


def _asks_nothing(within: int, depth: str) -> Iterable[Ask]:
    """List no question, whatever the range and depth."""
    return ()
