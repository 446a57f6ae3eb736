"""The kinds of number work a goal file may name, by their names in the task generator."""

KINDS = (
    "counting-amounts",
    "count-out",
    "counting-sounds",
    "still-the-same",
    "estimate-and-count",
    "counting-on-in-ones",
    "counting-on-in-twos",
    "counting-on-in-fives",
    "counting-on-in-tens",
    "counting-back-in-ones",
    "counting-back-in-twos",
    "counting-back-in-fives",
    "counting-back-in-tens",
    "missing-number",
    "number-names",
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
    "finger-doubles",
    "doubling",
    "halving",
    "halving-number-sentence",
    "sharing-equally",
    "odd-or-even",
    "can-it-be-halved",
    "matching",
    "comparing",
    "comparing-signs",
    "ordering",
    "ordinals",
    "halves-of-shapes",
    "repeating-patterns",
    "making-patterns",
    "story-problems",
    "number-stories",
)
# Done aloud or by showing: what they show has to be heard or seen, and no task is drafted of them.
DONE_TOGETHER = (
    "counting-aloud-in-ones",
    "counting-aloud-in-twos",
    "counting-aloud-in-fives",
    "counting-aloud-in-tens",
    "number-of-the-day-shown",
)


def known_kinds(names: list[str]) -> tuple[str, ...]:
    """Return those of *names* that are kinds, each once, in the order given."""
    return tuple(name for name in dict.fromkeys(names) if name in KINDS)
