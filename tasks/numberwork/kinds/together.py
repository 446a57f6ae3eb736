"""What is done together, aloud or by showing: counting, and one number in many ways.

Nobody writes or types an answer to these, so they have none and tell no mistakes apart.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from tasks.numberwork.kind import Ask, Kind
from tasks.numberwork.kinds.counting import RANGES, STEP_NAMES
from tasks.numberwork.kinds.number_of_the_day import NUMBER_OF_THE_DAY
from tasks.numberwork.pictures import Fingers, FiveAndDots, NumberLine, Picture, Tally, TenFrame
from tasks.numberwork.prompt import CHALLENGE, WITH_SUPPORT

MOST_STEPS, FEWEST_STEPS = 10, 3  # of one count: a breath or two (common practice, no source)
NO_ANSWER = ""
WAYS: Mapping[str, Callable[[int], Picture]] = {
    "fingers": Fingers,
    "dots": FiveAndDots,
    "tally": Tally,
}
WAYS_BEYOND_TEN: Mapping[str, Callable[[int], Picture]] = {"frame": TenFrame, "tally": Tally}


def _counts(step: int) -> Callable[[int, str], Iterator[Ask]]:
    """Make the list of counts in steps of *step*: on from 0, on from anywhere, or back."""

    def asks(within: int, depth: str) -> Iterator[Ask]:
        steps = min(MOST_STEPS, max(FEWEST_STEPS, within // step // 2))
        last = within - steps * step
        if depth == WITH_SUPPORT:
            last = min(step, last)
        for low in range(0, last + 1, step):
            high = low + steps * step
            form, run = ("back", (high, low)) if depth == CHALLENGE else ("on", (low, high))
            yield Ask(form, str(run[0]), run, NO_ANSWER, {})

    return asks


def _stretch(step: int) -> Callable[[Ask, str, int], NumberLine]:
    """Make the picture of the stretch of the number line that is counted, its start marked."""

    def picture(ask: Ask, depth: str, variant: int) -> NumberLine:
        return NumberLine(min(ask.numbers), max(ask.numbers), marked=ask.numbers[:1], step=step)

    return picture


def _counting_aloud(step: int) -> Kind:
    """Describe the count aloud in steps of *step*."""
    name = STEP_NAMES[step]
    return Kind(
        name=f"counting-aloud-in-{name}",
        title=f"Counting aloud in {name}",
        practises="Saying the counting numbers in order",
        ranges=RANGES[step],
        example=f"from 0 to {step * 5}, aloud",
        forms={"on": "On from one number to another", "back": "Back from one number to another"},
        mistakes={},
        depths={
            "with support": "On from 0, or from the number after it",
            "core": "On from any number",
            "challenge": "Back",
        },
        fetch=(),
        say="Say it with me. Point to each number.",
        right="Every number comes once, in order. Stop and start again as often as you like.",
        asks=_counts(step),
        picture=_stretch(step),
        seconds=60,
        together=True,
    )


def _numbers(within: int, depth: str) -> Iterator[Ask]:
    """List every number from 1 to *within* to be shown, beginning with each of a few ways."""
    for number in range(1, within + 1):
        for way in WAYS if number <= 10 else WAYS_BEYOND_TEN:
            yield Ask("show", f"{number}:{way}", (number,), NO_ANSWER, {})


def _one_way(ask: Ask, depth: str, variant: int) -> Picture:
    """Draw the way of showing the number that one begins with."""
    way = ask.fact.partition(":")[2]
    return {**WAYS, **WAYS_BEYOND_TEN}[way](ask.numbers[0])


COUNTING_ALOUD = tuple(_counting_aloud(step) for step in STEP_NAMES)
NUMBER_SHOWN = Kind(
    name="number-of-the-day-shown",
    title="One number in many ways",
    practises="Knowing one number in many ways",
    ranges=NUMBER_OF_THE_DAY.ranges,
    example="show 7 in many ways",
    forms={"show": "The number shown in as many ways as one can find"},
    mistakes={},
    depths=dict.fromkeys(NUMBER_OF_THE_DAY.depths, "Fingers, things, dots, a drawing"),
    fetch=("paper and pencil",),
    say=NUMBER_OF_THE_DAY.say,
    right=NUMBER_OF_THE_DAY.right,
    asks=_numbers,
    picture=_one_way,
    one_number=True,
    seconds=75,
    together=True,
)
