"""How far two people who looked at the same work agree: Cohen's kappa, plain and weighted."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

Weights = Literal["plain", "linear", "quadratic"] | Sequence[Sequence[float]]
Table = tuple[tuple[int, ...], ...]
BANDS = (
    (0.20, "slight"),
    (0.40, "fair"),
    (0.60, "moderate"),
    (0.80, "substantial"),
    (1.00, "almost perfect"),
)


@dataclass(frozen=True, slots=True)
class Agreement:
    """What two lookers' words come to. Show count and observed beside kappa, always.

    table: rows the first looker's words, columns the second's. observed: plain share of
    equal words, 0 to 1; None without work. kappa: at most 1; None where it cannot be
    computed, and *reason* says why. band: a word for plain kappa only, since weighted
    kappas of different weights stand on no common scale (Warrens 2013).
    """

    count: int
    table: Table
    observed: float | None
    kappa: float | None
    band: str | None
    reason: str


def agreement(
    pairs: Sequence[tuple[str, str]], categories: Sequence[str], weights: Weights = "plain"
) -> Agreement:
    """Compare two lookers' words on the same work.

    pairs: for each piece the first and the second looker's word. categories: the words in
    order, which linear and quadratic weights need. ValueError for a word not among them.
    """
    place = {category: index for index, category in enumerate(categories)}
    counts = [[0] * len(categories) for _ in categories]
    for first, second in pairs:
        if first not in place or second not in place:
            raise ValueError(f"not among the words to compare: {first}, {second}")
        counts[place[first]][place[second]] += 1
    return agreement_of_table(counts, weights)


def agreement_of_table(counts: Sequence[Sequence[int]], weights: Weights = "plain") -> Agreement:
    """Compute Cohen's kappa from a square table of counts.

    kappa = 1 - sum(v * observed) / sum(v * expected by chance), with disagreement weights v:
    plain 1 off the diagonal, linear |i - j|, quadratic (i - j) squared, or a table of
    one's own, 0 on the diagonal. Undefined when chance alone leaves no disagreement.
    ValueError for a table that is not square or holds a negative number.

    Source: Cohen 1960, Educational and Psychological Measurement 20, 37-46; Cohen 1968,
    Psychological Bulletin 70, 213-220.
    """
    size = len(counts)
    table = tuple(tuple(row) for row in counts)
    if any(len(row) != size or min(row) < 0 for row in table):
        raise ValueError("counts must be a square table of numbers from 0 up")
    total = sum(map(sum, table))
    if total == 0:
        return Agreement(0, table, None, None, None, "no work was looked at by both")
    observed = sum(table[i][i] for i in range(size)) / total
    kappa = _kappa(table, total, _disagreement(size, weights))
    if kappa is None:
        reason = "both used one word only, so chance agreement is already complete"
        return Agreement(total, table, observed, None, None, reason)
    named = band(kappa) if weights == "plain" else None
    return Agreement(total, table, observed, kappa, named, "")


def band(kappa: float) -> str:
    """Return Landis and Koch's word for *kappa*, decided on the value as shown, two decimals.

    >>> band(0.204), band(0.206)
    ('slight', 'fair')

    Source: Landis & Koch 1977, Biometrics 33, 159-174; exactly 0 is slight there.
    """
    shown = round(kappa, 2)
    if shown < 0:
        return "poor"
    return next(word for top, word in BANDS if shown <= top)


def _kappa(table: Table, total: int, weights: list[list[Fraction]]) -> float | None:
    cells = [(i, j) for i in range(len(table)) for j in range(len(table))]
    rows = [sum(row) for row in table]
    columns = [sum(column) for column in zip(*table, strict=True)]
    by_chance = sum(weights[i][j] * rows[i] * columns[j] for i, j in cells)
    if by_chance == 0:
        return None
    seen = sum(weights[i][j] * table[i][j] for i, j in cells)
    return float(1 - Fraction(seen * total) / by_chance)


def _disagreement(size: int, weights: Weights) -> list[list[Fraction]]:
    places = range(size)
    if weights == "plain":
        return [[Fraction(i != j) for j in places] for i in places]
    if weights == "linear":
        return [[Fraction(abs(i - j)) for j in places] for i in places]
    if weights == "quadratic":
        return [[Fraction((i - j) ** 2) for j in places] for i in places]
    own = [[Fraction(weight) for weight in row] for row in weights if not isinstance(row, str)]
    if len(own) != size or any(len(row) != size or min(row) < 0 for row in own):
        raise ValueError(f"weights must be a table of {size} by {size} numbers from 0 up")
    if any(own[i][i] for i in places):
        raise ValueError("weights must be 0 where the two agree")
    return own
