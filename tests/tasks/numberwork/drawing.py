"""How tests draw prompts: every kind, range, depth and any seed."""

from hypothesis import settings
from hypothesis import strategies as st

from tasks.numberwork import DEPTHS, KINDS, Prompt, how_many, make_prompts

EVERY = [
    (kind.name, within, depth)
    for kind in KINDS.values()
    for within in kind.ranges
    for depth in DEPTHS
]
# The first set of a kind fills its pool; on a busy machine that is no failure.
UNHURRIED = settings(deadline=None)
SEEDS = st.integers(min_value=-(2**40), max_value=2**40)


@st.composite
def prompt_sets(draw: st.DrawFn, most: int = 12) -> tuple[Prompt, ...]:
    """Draw a set of prompts of any kind, range and depth."""
    kind, within, depth = draw(st.sampled_from(EVERY))
    count = draw(st.integers(1, min(most, how_many(kind, within, depth))))
    return make_prompts(kind, within, count, draw(SEEDS), depth=depth)
