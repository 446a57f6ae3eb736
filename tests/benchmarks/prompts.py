"""How fast prompts are drawn, and how much better chosen sets tell mistakes apart."""

from collections.abc import Iterator

from tasks.numberwork import KINDS, make_prompts
from tasks.numberwork.making import how_many
from tasks.numberwork.mistakes.simulation import simulate
from tasks.numberwork.sequences.sequence import count_of
from tests.benchmarks import Figure, a_second, seconds

# What a drafted day asks: its kinds, each with the part that it stands in.
DAY = {
    "warm_up": "counting-aloud-in-twos",
    "main_task": "halving",
    "number_of_the_day": "number-of-the-day-shown",
    "quick_recall": "adding",
    "try_at_home": "halving",
}
MORE = 8  # prompts: as many as the families of a longer day, or of two days, answer


def measure() -> Iterator[Figure]:
    """Return prompts a second for each kind, a week for a class, and the gain of chosen sets."""
    for kind in KINDS:
        within = reasonable_range(kind)
        count = min(8, how_many(kind, within))
        seeds = iter(range(10**9))
        made = a_second(lambda kind=kind, w=within, c=count, s=seeds: draw(kind, w, c, next(s)))
        yield Figure(f"prompts a second: {kind}", made, "a second", least=5000)
    yield Figure("diagnostic week for 30 children", seconds(week_for_a_class), "s", most=1)
    for kind in ("doubling", "halving", "halving-number-sentence", "adding", "one-more"):
        for count in (count_of("main_task", kind), MORE):
            outcome = simulate(kind, 20, count, children=1000)
            share = outcome.chosen / outcome.children
            of = f"{count} prompts of {kind}"
            yield Figure(f"right mistake named, chosen: {of}", share, "of children")
            blind = outcome.at_random / outcome.children
            yield Figure(f"right mistake named, at random: {of}", blind, "of children")


def reasonable_range(kind: str) -> int:
    """Return the largest range of *kind* up to 20, or its smallest beyond."""
    ranges = KINDS[kind].ranges
    return max((each for each in ranges if each <= 20), default=min(ranges))


def draw(kind: str, within: int, count: int, seed: int) -> int:
    """Draw one set and give how many prompts are in it."""
    return len(make_prompts(kind, within, count, seed))


def week_for_a_class() -> None:
    """Draw five days of five parts, for each of thirty children of their own."""
    for child in range(30):
        for day in range(5):
            for place, (part, kind) in enumerate(DAY.items()):
                make_prompts(kind, 20, count_of(part, kind), child * 100 + day * 10 + place)
