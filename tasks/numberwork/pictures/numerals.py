"""Numerals as pen strokes, in the order a child is taught to write them.

Drawn here, not set in type: common typefaces close the 4, and a picture must look the same on a
page, on paper and where no typeface can be loaded.
"""

from tasks.numberwork.pictures.ink import mark, moved

# Strokes of each digit in a box 60 wide and 100 high, first stroke first. Common practice, no
# source: 0, 6 and 9 go anticlockwise from the top, 8 as an S and back up, 4 and 5 take two strokes.
STROKES: dict[str, tuple[str, ...]] = {
    "0": ("M30 0C10 0 2 22 2 50C2 78 10 100 30 100C50 100 58 78 58 50C58 22 50 0 30 0",),
    "1": ("M2 24L26 0L26 100",),
    "2": ("M4 26C6 9 17 0 30 0C46 0 56 11 56 27C56 50 28 72 4 100L58 100",),
    "3": (
        "M6 15C11 5 19 0 30 0C45 0 54 9 54 23C54 38 44 47 28 47"
        "C46 47 58 57 58 73C58 90 46 100 30 100C16 100 7 94 2 83",
    ),
    "4": ("M24 0L4 66L58 66", "M42 34L42 100"),
    "5": (
        "M12 0L9 44C15 39 22 37 30 37C47 37 58 50 58 68C58 88 46 100 28 100C16 100 7 95 2 86",
        "M12 0L54 0",
    ),
    "6": (
        "M44 0C20 12 2 38 2 68C2 88 13 100 30 100C46 100 58 88 58 71C58 54 46 43 31 43"
        "C16 43 4 52 2 68",
    ),
    "7": ("M2 0L58 0L22 100",),
    "8": (
        "M53 16C49 6 41 0 30 0C17 0 7 9 7 23C7 37 18 43 30 48C44 54 57 61 57 77"
        "C57 91 45 100 30 100C15 100 3 91 3 77C3 61 16 54 30 48C42 43 53 37 53 23"
        "C53 20 53 18 53 16",
    ),
    "9": ("M55 20C51 7 42 0 30 0C14 0 3 12 3 28C3 45 14 56 28 56C43 56 53 44 55 20L55 100",),
}
SPACE = 20.0
NARROW = 0.72  # of its width, where many numerals stand side by side


def _width(digit: str) -> float:
    return 28.0 if digit == "1" else 60.0


def numeral_width(number: int, height: float, narrow: float = 1.0) -> float:
    """Return the width of *number* written *height* units high, *narrow* of the usual width."""
    digits = str(number)
    return (sum(map(_width, digits)) + SPACE * (len(digits) - 1)) * height / 100 * narrow


def placed_digits(
    number: int, x: float, y: float, height: float, narrow: float = 1.0
) -> list[list[str]]:
    """Return path data for each stroke of each digit of *number*, centred on x, its top at y."""
    scale = height / 100
    left = x - numeral_width(number, height, narrow) / 2
    digits = []
    for digit in str(number):
        digits.append([moved(stroke, left, y, scale, narrow) for stroke in STROKES[digit]])
        left += (_width(digit) + SPACE) * scale * narrow
    return digits


def numeral(number: int, x: float, y: float, height: float, narrow: float = 1.0) -> str:
    """Draw *number*, 0 or more, centred at x, y, *height* units high."""
    digits = placed_digits(number, x, y - height / 2, height, narrow)
    data = "".join(stroke for strokes in digits for stroke in strokes)
    return mark("path", d=data, stroke_width=max(1.2, height / 9))
