"""The number of the day: one number, met in many ways."""

from __future__ import annotations

from collections.abc import Iterator

from tasks.numberwork.kind import Ask, Kind, wrong_answers
from tasks.numberwork.kinds.digits import SENTENCES as DIGITS
from tasks.numberwork.kinds.digits import digit_mistakes
from tasks.numberwork.pictures import FiveAndDots, PartWhole, Picture, Tally, TenFrame
from tasks.numberwork.prompt import CHALLENGE, CORE, WITH_SUPPORT

FEW, MANY = "one too few", "one too many"
GROUPS = "counted the crossing stroke as no stroke"
OPPOSITE, SELF = "did the opposite", "said the number itself"
ADDED, PART = "added the numbers", "said the part again"


def _amounts(number: int) -> Iterator[Ask]:
    """Ask how many the tally and the dots show."""
    slips = {FEW: number - 1, MANY: number + 1, **digit_mistakes(number)}
    tally = wrong_answers({**slips, GROUPS: number - number // 5}, number)
    yield Ask("tally", f"{number}:tally", (number,), number, tally)
    yield Ask("dots", f"{number}:dots", (number,), number, wrong_answers(slips, number))


def _neighbours(number: int, within: int) -> Iterator[Ask]:
    """Ask for one more and one less."""
    for form, step in (("one more", 1), ("one less", -1)):
        right = number + step
        wrong = wrong_answers({SELF: number, OPPOSITE: number - step}, right)
        if 0 <= right <= within:
            yield Ask(form, f"{number}:{form}", (number,), right, wrong)


def _sentences(number: int, depth: str) -> Iterator[Ask]:
    """Ask for adding sentences that make the number, and for a way of the child's own."""
    for part in range(number + 1):
        # Ten and some ones is a form of its own.
        if (part == 10 and number > 10) or (depth == CORE and part > 5):
            continue
        right = number - part
        slips = {ADDED: number + part, PART: part, SELF: number, FEW: right - 1, MANY: right + 1}
        yield Ask("adding", f"{number}:{part}", (number, part), right, wrong_answers(slips, right))
    pairs = tuple((part, number - part) for part in range(number + 1))
    yield Ask("another way", f"{number}:another", (number,), pairs[0], {}, answers=pairs)


def _asks(within: int, depth: str) -> Iterator[Ask]:
    """List every question about every number from 1 to *within*."""
    for number in range(1, within + 1):
        yield from _amounts(number)
        yield from _neighbours(number, within)
        if number > 10:
            ones = number - 10
            slips = {FEW: ones - 1, MANY: ones + 1, SELF: number, ADDED: number + 10}
            yield Ask("tens and ones", f"{number}:ten", (number,), ones, wrong_answers(slips, ones))
        if depth != WITH_SUPPORT:
            yield from _sentences(number, depth)


def _picture(ask: Ask, depth: str, variant: int) -> Picture | None:
    """Draw what the form is about; neighbours and sentences keep a picture short of challenge."""
    number = ask.numbers[0]
    if ask.form == "tally":
        return Tally(number)
    if ask.form == "dots":
        return FiveAndDots(number) if number <= 10 else TenFrame(number)
    if depth == CHALLENGE or ask.form == "another way":
        return None
    if ask.form in ("adding", "tens and ones"):
        return PartWhole(number, (ask.numbers[1] if ask.form == "adding" else 10, None))
    return TenFrame(number)


NUMBER_OF_THE_DAY = Kind(
    name="number-of-the-day",
    title="Number of the day",
    practises="Knowing one number in many ways: tally, dots, neighbours, adding sentences",
    ranges=(5, 10, 20),
    example="7 = 5 + □",
    forms={
        "tally": "The tally of the number",
        "dots": "Dots: five and some more, or a ten and some more",
        "one more": "One more than the number",
        "one less": "One less than the number",
        "tens and ones": "A teen number as one ten and some ones",
        "adding": "An adding sentence that makes the number",
        "another way": "A different adding sentence of the child's own",
    },
    mistakes={
        FEW: "Gave one too few",
        MANY: "Gave one too many",
        GROUPS: "Left out the stroke across each group of five",
        OPPOSITE: "Gave one less for one more, or the other way round",
        SELF: "Said the number itself",
        ADDED: "Added the numbers in the sentence",
        PART: "Said the part that was given again",
        **DIGITS,
    },
    depths={
        "with support": "Seeing the number: tally, dots, neighbours, with a picture throughout",
        "core": "Adding sentences too, starting from small parts or from ten",
        "challenge": "Any adding sentence, without a picture",
    },
    fetch=("paper and pencil", "chalk on the ground", "lolly sticks or straws for the tally"),
    say="Show me the number another way. Can you find one nobody has found yet?",
    right="The number is shown in two or more ways, and the child says how many each time.",
    seconds=40,
    asks=_asks,
    picture=_picture,
    one_number=True,
)
