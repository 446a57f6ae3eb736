"""The kinds of number work a goal file may name, by their names in the task generator."""

KINDS = (
    "counting-amounts",
    "counting-on-in-ones",
    "counting-on-in-twos",
    "counting-on-in-fives",
    "counting-on-in-tens",
    "counting-back-in-ones",
    "counting-back-in-twos",
    "counting-back-in-fives",
    "counting-back-in-tens",
    "missing-number",
    "hundred-square",
    "number-formation",
    "one-more",
    "one-less",
    "number-of-the-day",
    "subitising",
    "number-bonds",
    "adding",
    "taking-away",
    "missing-part",
    "doubling",
    "halving",
    "halving-number-sentence",
    "sharing-equally",
    "odd-or-even",
    "can-it-be-halved",
    "comparing",
    "comparing-signs",
    "ordering",
    "halves-of-shapes",
    "repeating-patterns",
    "story-problems",
)


def known_kinds(names: list[str]) -> tuple[str, ...]:
    """Return those of *names* that are kinds, each once, in the order given."""
    return tuple(name for name in dict.fromkeys(names) if name in KINDS)
