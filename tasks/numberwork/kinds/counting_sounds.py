"""Counting what cannot be moved or seen: sounds, jumps, and things that are not touched."""

from __future__ import annotations

from collections.abc import Iterator

from tasks.numberwork.kind import Ask, Kind, wrong_answers
from tasks.numberwork.kinds.mistakes import FEW, FIRST, MANY, SECOND, sentences
from tasks.numberwork.pictures import House, Picture
from tasks.numberwork.prompt import CHALLENGE, CORE, WITH_SUPPORT, Answer

LEAST = 2  # one sound is heard at once and needs no count
MOST_HEARD = 10  # sounds that a child of this age can keep count of (common practice, no source)
FORMS = {
    WITH_SUPPORT: ("claps", "windows"),
    CORE: ("claps", "in a tin", "jumps", "windows"),
    CHALLENGE: ("jumps", "windows"),
}


def _asks(within: int, depth: str) -> Iterator[Ask]:
    """List sounds to hear, jumps to make and windows to look at; last, two sounds in turn.

    Source: Development Matters (2023), Reception: "Count objects, actions and sounds."
    """
    for form in FORMS[depth]:
        for number in range(LEAST, _most(form, within, depth) + 1):
            slips: dict[str, Answer | None] = {FEW: number - 1, MANY: number + 1}
            given = () if form == "windows" else (number,)
            wrong = wrong_answers(slips, number)
            yield Ask(form, f"{form}:{number}", given, number, wrong)
    if depth == CHALLENGE:
        most = min(within, MOST_HEARD)
        for claps in range(LEAST, most - LEAST + 1):
            for stamps in range(LEAST, most - claps + 1):
                yield _in_turn(claps, stamps)


def _most(form: str, within: int, depth: str) -> int:
    """Return the largest number of a form: heard, and with support, there are ten at the most."""
    all_of_them = form in ("jumps", "windows") and depth != WITH_SUPPORT
    return within if all_of_them else min(within, MOST_HEARD)


def _in_turn(claps: int, stamps: int) -> Ask:
    """Ask for one count over two sounds."""
    both = claps + stamps
    slips: dict[str, Answer | None] = {
        FIRST: claps,
        SECOND: stamps,
        FEW: both - 1,
        MANY: both + 1,
    }
    wrong = wrong_answers(slips, both)
    return Ask("claps and stamps", f"both:{claps},{stamps}", (claps, stamps), both, wrong)


def _picture(ask: Ask, depth: str, variant: int) -> Picture | None:
    """Draw the house; what is heard or done has no picture to count."""
    if ask.form == "windows" and isinstance(ask.answer, int):
        return House(ask.answer)
    return None


COUNTING_SOUNDS = Kind(
    name="counting-sounds",
    title="Counting sounds and jumps",
    practises="Counting what cannot be moved or touched, one number for each",
    ranges=(5, 10, 20),
    example="how many windows? □",
    forms={
        "claps": "Claps to hear and count",
        "windows": "Windows to count without touching them",
        "in a tin": "Spoons dropped in a tin, heard and not seen",
        "jumps": "A number of jumps to make, and then to stop",
        "claps and stamps": "Claps and then stamps, in one count",
    },
    mistakes={
        **sentences(FEW, MANY),
        FIRST: "Said the claps only",
        SECOND: "Said the stamps only",
    },
    depths={
        "with support": "Claps, and windows to look at, up to ten",
        "core": "Sounds that are heard and not seen, jumps to make, windows",
        "challenge": "Claps and then stamps in one count; more jumps and windows",
    },
    fetch=("hands to clap", "a spoon to drop in a tin", "jumps on the spot", "windows to look at"),
    say="Listen or look. Say one number for each. How many is that? How do you know?",
    right="One number for each sound, jump or window, and none twice; the last one is how many.",
    seconds=40,
    asks=_asks,
    picture=_picture,
)
