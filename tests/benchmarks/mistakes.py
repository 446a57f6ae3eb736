"""How fast answers are read, and how often what is said of a made-up class is true."""

from collections.abc import Iterator

from tasks.numberwork import KINDS, Finding, how_many, spot_mistakes
from tasks.numberwork.mistakes.model import MORE, alike
from tests.benchmarks import Figure, a_second
from tests.benchmarks.prompts import MORE as EIGHT
from tests.benchmarks.prompts import reasonable_range
from tests.tasks.numberwork.honest_class import (
    CAREFUL,
    EVEN,
    GUESSES,
    OFF_BY_ONE,
    STEADY,
    TWO,
    UNSTEADY,
    MadeUpChild,
    children,
)

EACH = 60  # made-up children a kind
TWO_CHOICES = ("odd-or-even", "halves-of-shapes")
FALSELY = {CAREFUL: 0.01, OFF_BY_ONE: 0.05}
TOLD = {STEADY: 0.9, UNSTEADY: 0.75, TWO: 0.75}
Read = tuple[MadeUpChild, Finding]


def measure() -> Iterator[Figure]:
    """Return sets read a second, and for each sort of child how often a mistake is named."""
    made = [
        child
        for kind in KINDS
        for within in [reasonable_range(kind)]
        for child in children(kind, within, min(EIGHT, how_many(kind, within)), EACH, 1, EVEN)
    ]
    yield Figure("sets of answers read a second", a_second(lambda: read_some(made)), "a second")
    found = [(child, spot_mistakes(child.prompts, child.answers)[0]) for child in made]
    for truth, most in FALSELY.items():
        named = [is_claim(one) for child, one in found if child.truth == truth]
        yield Figure(f"a mistake is named: {truth}", share(named), "of children", most=most)
    guessers = [
        child
        for kind in TWO_CHOICES
        for child in children(kind, reasonable_range(kind), EIGHT, 5 * EACH, 1, {GUESSES: 1})
    ]
    two = [is_claim(spot_mistakes(child.prompts, child.answers)[0]) for child in guessers]
    yield Figure("a mistake is named: guesses between two", share(two), "of children", most=0.05)
    for truth, least in TOLD.items():
        told = [is_true(pair) for pair in found if pair[0].truth == truth and is_number(pair[0])]
        yield Figure(f"named, or several: {truth}", share(told), "of children", least=least)
    near = [is_true(pair) for pair in found if is_claim(pair[1]) and is_nine_in_ten(pair[1])]
    yield Figure("true where nine in ten is meant", share(near), "of what is said")


def read_some(made: list[MadeUpChild]) -> int:
    """Read the answers of a hundred children."""
    some = made[:: max(1, len(made) // 100)]
    for child in some:
        spot_mistakes(child.prompts, child.answers)
    return len(some)


def is_claim(finding: Finding) -> bool:
    """Tell whether a finding says that a mistake, or more than one, is behind the answers."""
    return finding.is_mistake or finding.mistake == MORE


def is_nine_in_ten(finding: Finding) -> bool:
    """Tell whether a finding means about nine in ten."""
    return 0.85 <= finding.probability < 0.95


def is_number(child: MadeUpChild) -> bool:
    """Tell whether numbers, and not choices, answer the prompts of a child."""
    return not any(prompt.choices for prompt in child.prompts)


def is_true(read: Read) -> bool:
    """Tell whether one of a child's mistakes is named, or several are where there are several."""
    child, finding = read
    same = alike(child.prompts)
    kind = child.prompts[0].kind
    meant = {same.get((kind, name), ("", name))[1] for name in child.names}
    return finding.mistake in meant or (finding.mistake == MORE and len(meant) > 1)


def share(found: list[bool]) -> float:
    """Return for which share of *found* it holds."""
    return sum(found) / len(found) if found else 0.0
