"""What happens to the digits of a number when a child mishears or miswrites it."""

from __future__ import annotations

SWAPPED = "wrote the digits the wrong way round"
TEEN_TY = "mixed up teen and ty"

SENTENCES = {
    SWAPPED: "Wrote the two digits the other way round",
    TEEN_TY: "Mixed up the teens and the tens (such as 13 and 30)",
}


def swapped(number: int) -> int | None:
    """Return a two-digit number with its digits the other way round, as 81 for 18.

    None where it cannot be seen: 11, 22 … read the same, and 30 would be 03.
    Source: NRC 2009, Mathematics Learning in Early Childhood, p. 147 ("eighteen" as 81).
    """
    tens, ones = divmod(number, 10)
    return ones * 10 + tens if 0 < tens < 10 and ones not in (0, tens) else None


def teen_or_ty(number: int) -> int | None:
    """Return 30 for 13 and 13 for 30, for 3 to 9 and the near case 12 and 20; else None."""
    if 12 <= number <= 19:
        return (number - 10) * 10
    if 20 <= number <= 90 and number % 10 == 0:
        return number // 10 + 10
    return None


def digit_mistakes(right: int) -> dict[str, int | None]:
    """Predict the answers of a child who knows the number but not how it is written."""
    return {SWAPPED: swapped(right), TEEN_TY: teen_or_ty(right)}
