"""The evidence that stands beside a teacher's judgement. It proposes none.

Source: the statutory framework of the early years foundation stage, 2.2: practitioners
"draw on their knowledge of the child and their own expert professional judgement". A
judgement is on the goal as a whole (best fit; from memory), so nothing is added up to a mark.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from .rows import Child
from .strength import Strength


@dataclass(frozen=True, slots=True)
class Beside:
    """What was gathered on all statements of one judged goal, for one child.

    statements pairs each code with its evidence, in the framework's order. unseen are the
    codes no work has shown yet; mixed those with evidence both ways.
    """

    statements: tuple[tuple[str, Strength], ...]
    count: int
    first_on: date | None
    last_on: date | None
    unseen: tuple[str, ...]
    mixed: tuple[str, ...]


def beside_judgement(
    child: Child, codes: Sequence[str], found: Mapping[tuple[Child, str], Strength]
) -> Beside:
    """Gather what *found* holds on the statements *codes* for *child*; absent ones are unseen."""
    statements = tuple((code, found.get((child, code), Strength())) for code in codes)
    firsts = [one.first_on for _, one in statements if one.first_on]
    lasts = [one.last_on for _, one in statements if one.last_on]
    return Beside(
        statements=statements,
        count=sum(one.count for _, one in statements),
        first_on=min(firsts, default=None),
        last_on=max(lasts, default=None),
        unseen=tuple(code for code, one in statements if one.days == 0),
        mixed=tuple(code for code, one in statements if one.against),
    )
