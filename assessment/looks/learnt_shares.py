"""How common each mistake is in a school, as it was learnt; read where answers are looked at."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from assessment.models import MistakeShares
from tasks.numberwork import KINDS
from tasks.numberwork.mistakes.model import PLAIN, Key
from tasks.numberwork.mistakes.shares import Share

IN_A_ROW = 6
Learnt = Mapping[str, Mapping[Key | str, float]]  # by kind, as spot_mistakes takes it


@dataclass(frozen=True)
class OfKind:
    """What is known of one kind of work in a school, and from how many answered tasks."""

    kind: str
    sets: int
    shares: dict[Key | str, Share]


def learnt_in(school: int) -> Learnt:
    """Return how common mistakes are in a school by its key, in one query."""
    kept = kept_of(MistakeShares.objects.filter(school=school))
    return {one.kind: {name: share.found for name, share in one.shares.items()} for one in kept}


def kept_of(rows: Iterable[MistakeShares]) -> list[OfKind]:
    """Read rows as they are kept; what this program does not know is left out."""
    return [
        OfKind(row.kind, row.sets, shares)
        for row in rows
        if row.kind in KINDS and (shares := _read(row.kind, row.shares))
    ]


def _read(kind: str, kept: object) -> dict[Key | str, Share]:
    """Read the shares of one kind; none where an older program kept other ones."""
    if not isinstance(kept, list):
        return {}
    rows = [row for row in kept if isinstance(row, list) and len(row) == IN_A_ROW]
    shares = {(kind, row[0]) if row[1] else row[0]: Share(*row[2:]) for row in rows}
    return shares if {name for name in shares if isinstance(name, str)} == set(PLAIN) else {}
