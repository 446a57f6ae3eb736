"""One more and one less."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from tasks.numberwork.kind import Ask, Kind, wrong_answers
from tasks.numberwork.kinds import counting_mistakes as slips
from tasks.numberwork.kinds.digits import SENTENCES as DIGITS
from tasks.numberwork.pictures import NumberLine, Picture, TenFrame
from tasks.numberwork.prompt import CHALLENGE, WITH_SUPPORT, Answer

OTHER, SELF = "did the opposite", "said the number itself"
TWO, TEN = "went two instead of one", "went ten instead of one"


def _mistakes(start: int, step: int) -> dict[str, Answer | None]:
    """Predict wrong answers to one more (step 1) or one less (step -1) than *start*."""
    counted = slips.count_mistakes(start, step)
    for name in (slips.SAME, slips.MISSED, slips.OTHER_WAY, slips.STOPPED):
        counted.pop(name, None)
    ten = start + 10 * step if start >= 10 else None
    return {SELF: start, OTHER: start - step, TWO: start + 2 * step, TEN: ten, **counted}


def _asks(step: int) -> Callable[[int, str], Iterator[Ask]]:
    """Make the list of questions one step away from a number."""
    sign = "plus one" if step > 0 else "minus one"

    def asks(within: int, depth: str) -> Iterator[Ask]:
        for start in range(within + 1):
            result = start + step
            if not 0 <= result <= within:
                continue
            wrong = wrong_answers(_mistakes(start, step), result)
            if depth == WITH_SUPPORT and not slips.crosses_a_ten(start, step):
                yield Ask("is", str(start), (start,), result, wrong)
            elif depth != WITH_SUPPORT:
                if depth == CHALLENGE:
                    undone = {SELF: result, OTHER: result + step, TWO: result - 2 * step}
                    backwards = wrong_answers(undone, start)
                    yield Ask("unknown", str(start), (result,), start, backwards)
                else:
                    yield Ask("is", str(start), (start,), result, wrong)
                yield Ask(sign, str(start), (start,), result, wrong)

    return asks


def _picture(step: int) -> Callable[[Ask, str, int], Picture | None]:
    """Make the picture: with support the jump, at core the amount to start from."""

    def picture(ask: Ask, depth: str, variant: int) -> Picture | None:
        if depth == CHALLENGE:
            return None
        start = ask.numbers[0]
        if depth == WITH_SUPPORT:
            low = min(max(0, start - 4), 192)
            return NumberLine(low, low + 8, marked=(start,), jumps=((start, start + step),))
        if start <= 20:
            return TenFrame(start)
        low = start - 4
        return NumberLine(low, min(start + 1, 200), marked=(start,), hidden=(start + step,))

    return picture


def _kind(step: int) -> Kind:
    """Describe one more (step 1) or one less (step -1)."""
    word, way = ("more", "after") if step > 0 else ("less", "before")
    sign = {"plus one": "As adding one"} if step > 0 else {"minus one": "As taking one away"}
    tens = (
        [slips.JUMPED, slips.NO_ROUND, slips.TWENTY_TEN, slips.TWO_HUNDRED]
        if step > 0
        else [slips.JUMPED, slips.KEPT_TEN]
    )
    return Kind(
        name=f"one-{word}",
        title=f"One {word}",
        practises=f"Saying the number that is one {word}, just {way} in the count",
        ranges=(5, 10, 20, 50, 100, 200),
        example=f"one {word} than 9 is □",
        forms={
            "is": f"One {word} than a number",
            **sign,
            "unknown": f"The result is given, the number it is one {word} than is asked for",
        },
        mistakes={
            SELF: "Said the number itself",
            OTHER: f"Said one {'less' if step > 0 else 'more'} instead",
            TWO: f"Said two {word}",
            TEN: f"Said ten {word}",
            **slips.sentences_for([*tens, *DIGITS]),
        },
        depths={
            "with support": "A number line shows the jump; no new ten is entered",
            "core": "Any number of the range; the picture shows only the number to start from",
            "challenge": "No picture; written with + or −, or the starting number is asked for",
        },
        fetch=("cups and one more cup", "spoons in a line", "socks on the floor"),
        say=f"Put one {word}. How many now? Did you need to count them all?",
        right="The child says the new number without counting all of them again.",
        seconds=20,
        asks=_asks(step),
        picture=_picture(step),
    )


ONE_MORE, ONE_LESS = _kind(1), _kind(-1)
