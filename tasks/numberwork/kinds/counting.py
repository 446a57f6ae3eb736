"""Counting on and back in ones, twos, fives and tens."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from tasks.numberwork.kind import Ask, Kind, wrong_answers
from tasks.numberwork.kinds import counting_mistakes as slips
from tasks.numberwork.kinds.digits import SENTENCES as DIGITS
from tasks.numberwork.pictures import NumberLine, hops
from tasks.numberwork.prompt import CHALLENGE, WITH_SUPPORT

RANGES = {
    1: (5, 10, 20, 50, 100, 200),
    2: (10, 20, 50, 100),
    5: (20, 50, 100, 200),
    10: (50, 100, 200),
}
STEP_NAMES = {1: "ones", 2: "twos", 5: "fives", 10: "tens"}
SHOWN = 3  # numbers of a run that are given before the box
MOST = max(max(most) for most in RANGES.values())
SMALL_STEP = 2  # up to here the hops of a whole run can be drawn


def _lasts(within: int, step: int, depth: str) -> Iterator[int]:
    """List the numbers after which a count by *step* is asked to go on."""
    for last in range(within + 1):
        if not 0 <= last + step <= within:
            continue
        if depth == CHALLENGE:
            hard = step in (-5, 5) or last % abs(step) or abs(step) == 1
            if hard and (abs(step) > 1 or within <= 10 or last % 10 in (8, 9, 0, 1)):
                yield last
        elif last % abs(step) == 0 and not (
            depth == WITH_SUPPORT and abs(step) == 1 and slips.crosses_a_ten(last, step)
        ):
            yield last


def _asks(step: int) -> Callable[[int, str], Iterator[Ask]]:
    """Make the list of questions that count by *step* (below 0: back)."""

    def asks(within: int, depth: str) -> Iterator[Ask]:
        for last in _lasts(within, step, depth):
            wrong = wrong_answers(slips.count_mistakes(last, step), last + step)
            run = tuple(last - step * before for before in range(SHOWN - 1, -1, -1))
            if 0 <= run[0] <= within and (depth != CHALLENGE or abs(step) in (2, 10)):
                yield Ask("run", str(last), run, last + step, wrong)
            if depth != WITH_SUPPORT:
                yield Ask("after", str(last), (last,), last + step, wrong)

    return asks


def hopped(run: tuple[int, ...], end: int) -> NumberLine:
    """Draw hops of one from the first of *run* to *end*, a number more at either side.

    A step of two is two hops: one long hop over a line of twos would look like a step of one.
    """
    low, high = min(*run, end), max(*run, end)
    return NumberLine(max(0, low - 1), min(MOST, high + 1), marked=run, jumps=hops(run[0], end))


def _picture(step: int) -> Callable[[Ask, str, int], NumberLine | None]:
    """Make the number line: with support it shows the hops, at core it hides where it ends."""

    def picture(ask: Ask, depth: str, variant: int) -> NumberLine | None:
        if depth == CHALLENGE or not isinstance(ask.answer, int):
            return None
        if depth == WITH_SUPPORT:
            shown = ask.numbers if abs(step) <= SMALL_STEP else ask.numbers[-1:]
            return hopped(shown, ask.answer)
        low, high = min(*ask.numbers, ask.answer), max(*ask.numbers, ask.answer)
        return NumberLine(low, high, marked=ask.numbers, hidden=(ask.answer,), step=abs(step))

    return picture


def _mistakes(step: int) -> dict[str, str]:
    """Name the mistakes a count by *step* can show."""
    names = [slips.SAME, slips.MISSED, slips.OTHER_WAY]
    if abs(step) > 1:
        names.append(slips.ONES)
    elif step > 0:
        names += [slips.STOPPED, slips.JUMPED, slips.NO_ROUND, slips.TWENTY_TEN]
    else:
        names += [slips.STOPPED, slips.JUMPED, slips.KEPT_TEN]
    if step > 0 and max(RANGES[abs(step)]) > 100:
        names.append(slips.TWO_HUNDRED)
    return slips.sentences_for([*names, *DIGITS])


def _kind(step: int) -> Kind:
    """Describe the count by *step* (below 0: back)."""
    way, name = ("on", STEP_NAMES[step]) if step > 0 else ("back", STEP_NAMES[-step])
    run = ["4, 5, 6", "4, 6, 8", "10, 15, 20", "20, 30, 40"][list(STEP_NAMES).index(abs(step))]
    example = run if step > 0 else ", ".join(reversed(run.split(", ")))
    harder = {1: "only steps at and near a new ten", 5: "only the last number is given"}
    return Kind(
        name=f"counting-{way}-in-{name}",
        title=f"Counting {way} in {name}",
        practises=f"Saying the count {way} in {name} in order, from any number",
        ranges=RANGES[abs(step)],
        example=f"{example}, □",
        forms={
            "run": "Three numbers of the count, then the next",
            "after": "One number, then the one that comes after it in the count",
        },
        mistakes=_mistakes(step),
        depths={
            "with support": "Three numbers given, a number line shows the hops, no new ten entered",
            "core": "Any place in the count; the number line has an empty box",
            "challenge": "No number line; "
            + harder.get(abs(step), "starts away from the usual numbers (such as 1, 3, 5)"),
        },
        fetch=("stairs to step on", "spoons laid in a line", "pegs on a washing line"),
        say="What comes next? How do you know?",
        right="The child says the next number without starting the count again.",
        seconds=20,
        asks=_asks(step),
        picture=_picture(step),
    )


COUNTING = tuple(_kind(sign * step) for sign in (1, -1) for step in STEP_NAMES)
