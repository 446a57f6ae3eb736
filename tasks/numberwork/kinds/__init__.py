"""Every kind of prompt, by name."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from tasks.numberwork.kind import Kind
from tasks.numberwork.kinds.adding import ADDING
from tasks.numberwork.kinds.counting import COUNTING
from tasks.numberwork.kinds.doubling import DOUBLING
from tasks.numberwork.kinds.halving import HALVING, HALVING_NUMBER_SENTENCE
from tasks.numberwork.kinds.number_of_the_day import NUMBER_OF_THE_DAY
from tasks.numberwork.kinds.one_more import ONE_LESS, ONE_MORE

_ALL = (
    *COUNTING,
    ONE_MORE,
    ONE_LESS,
    NUMBER_OF_THE_DAY,
    ADDING,
    DOUBLING,
    HALVING,
    HALVING_NUMBER_SENTENCE,
)

KINDS: Mapping[str, Kind] = MappingProxyType({kind.name: kind for kind in _ALL})
