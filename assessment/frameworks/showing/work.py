"""What came of the questions of one form: how many, how many right, what was seen, what help."""

from dataclasses import dataclass

ALONE, A_LITTLE, TOGETHER, NOT_SAID = "alone", "a little", "together", ""
HELP = (ALONE, A_LITTLE, TOGETHER, NOT_SAID)


@dataclass(frozen=True, slots=True)
class Work:
    """Answers to questions of one form and range.

    reach: the range their numbers lie in. asked, right: how many were answered, and rightly.
    ways: how it was seen beyond being typed. heard_to: how far a count was heard. needs: one of
    these ways is needed for the kind to show anything. printed: support stands in the picture.
    countable: there is something to count along. together: an adult said or did it too.
    options: answers to choose from, 0 where free. further: harder than usual. known: whether it
    is said at all what the kind can show. seen: whether there was anything to see.
    """

    kind: str
    form: str
    reach: int
    asked: int
    right: int
    help: str = NOT_SAID
    ways: frozenset[str] = frozenset()
    heard_to: int = 0
    needs: frozenset[str] = frozenset()
    printed: bool = False
    countable: bool = False
    together: bool = False
    options: int = 0
    further: bool = False
    known: bool = True
    seen: bool = True

    def __post_init__(self) -> None:
        if not 0 <= self.right <= self.asked:
            raise ValueError(f"right must be 0 to {self.asked}, not {self.right}")
        if self.help not in HELP:
            raise ValueError(f"help must be one of {', '.join(HELP[:-1])} or empty")
