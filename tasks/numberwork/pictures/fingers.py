"""Two hands held up, palms to the reader, some fingers raised and the others folded."""

from dataclasses import dataclass
from math import cos, radians, sin
from typing import NamedTuple

from tasks.numberwork.pictures.ink import MARGIN, Point, mark, number
from tasks.numberwork.pictures.picture import Drawing, Picture, check_whole, count_of


class Finger(NamedTuple):
    """A finger by the middle of its base, its length, half its width and its lean in degrees.

    For a hand with the thumb on the right; x to the right, y downwards from the wrist.
    """

    x: float
    y: float
    length: float
    half: float
    lean: float


# From the little finger to the index finger, then the thumb.
LITTLE = Finger(-23.5, -62, 35, 7, -13)
RING = Finger(-7.8, -67, 47, 7.5, -4)
MIDDLE = Finger(7.8, -67, 52, 7.5, 3)
INDEX = Finger(23.5, -63, 46, 7.5, 11)
THUMB = Finger(26, -30, 42, 8.5, 44)
# Raised in this order (common practice, no source: the index finger is one, the thumb is five).
ORDER = (INDEX, MIDDLE, RING, LITTLE, THUMB)
HAND_WIDTH, HAND_HEIGHT = 120.0, 150.0
FOLD = 16.0


def _turned(finger: Finger, across: float, along: float) -> Point:
    """Return the point *along* the finger from its base and *across* to its right."""
    angle = radians(finger.lean)
    return (
        finger.x + across * cos(angle) + along * sin(angle),
        finger.y + across * sin(angle) - along * cos(angle),
    )


def _straightened(finger: Finger) -> Finger:
    """Return a finger leaning less, as one does when it is folded."""
    return finger._replace(lean=finger.lean * 0.3)


class _Hand:
    """Pen strokes of one hand, mirrored for the other, its wrist at x, y."""

    def __init__(self, x: float, y: float, mirrored: bool) -> None:
        self.x, self.y, self.side = x, y, -1 if mirrored else 1

    def at(self, point: Point) -> str:
        return f"{number(self.x + self.side * point[0])} {number(self.y + point[1])}"

    def tip(self, finger: Finger, along: float, foot: float = 0) -> str:
        """Go up one side of a finger, round its tip, and down the other side."""
        turn = 1 if self.side > 0 else 0
        ends = [_turned(finger, side * finger.half, along) for side in (-1, 1)]
        arc = f"A{number(finger.half)} {number(finger.half)} 0 0 {turn} "
        return (
            f"L{self.at(_turned(finger, -finger.half, foot))}L{self.at(ends[0])}"
            f"{arc}{self.at(ends[1])}L{self.at(_turned(finger, finger.half, 0))}"
        )

    def folded(self, finger: Finger) -> str:
        """Draw the last joint of a folded finger, which lies on the palm."""
        turn = 0 if self.side > 0 else 1
        finger = _straightened(finger)
        down = [_turned(finger, side * finger.half, -FOLD) for side in (-1, 1)]
        return (
            f"M{self.at(_turned(finger, -finger.half, 0))}L{self.at(down[0])}"
            f"A{number(finger.half)} {number(finger.half)} 0 0 {turn} {self.at(down[1])}"
            f"L{self.at(_turned(finger, finger.half, 0))}"
        )

    def outline(self, raised: tuple[Finger, ...]) -> str:
        """Go round the hand from one side of the wrist to the other."""
        data = f"M{self.at((-19, 0))}Q{self.at((-20, -14))} {self.at((-29, -28))}"
        for finger in (LITTLE, RING, MIDDLE, INDEX):
            up = finger in raised
            data += self.tip(finger, finger.length) if up else self.tip(_straightened(finger), 1)
        if THUMB in raised:
            web = self.at(_turned(THUMB, -THUMB.half, 16))
            data += f"Q{self.at((30, -38))} {web}{self.tip(THUMB, THUMB.length, foot=16)}"
        return f"{data}Q{self.at((27, -14))} {self.at((19, 0))}"

    def marks(self, raised: int) -> list[str]:
        """Draw the hand with the first *raised* fingers of ORDER up."""
        up, down = ORDER[:raised], ORDER[raised:]
        data = self.outline(up) + "".join(self.folded(f) for f in down if f is not THUMB)
        if THUMB in down:
            data += self.folded_thumb()
        return [mark("path", d=data, stroke_width=2.5)]

    def folded_thumb(self) -> str:
        """Draw the thumb across the palm, under the folded fingers."""
        return (
            f"M{self.at((28, -34))}L{self.at((3, -31))}"
            f"Q{self.at((-8, -24))} {self.at((3, -17))}L{self.at((20, -15))}"
        )


@dataclass(frozen=True, slots=True)
class Fingers(Picture):
    """0 to 10 fingers on two hands: five on the left hand first, then more on the right."""

    number: int

    def __post_init__(self) -> None:
        check_whole("number", self.number, 0, 10)

    @property
    def hands(self) -> tuple[int, int]:
        """Return how many fingers are up on the left and on the right of the picture."""
        return min(self.number, 5), max(self.number - 5, 0)

    @property
    def alt(self) -> str:
        """Say how many fingers are up, and on which hand."""
        left, right = self.hands
        return (
            f"Two hands with {count_of(self.number, 'finger')} up: "
            f"{left} on the left and {right} on the right."
        )

    def draw(self) -> Drawing:
        """Lay out the hands with their thumbs towards each other."""
        return _both(*self.hands)


@dataclass(frozen=True, slots=True)
class TwoHands(Picture):
    """0 to 5 fingers on the left hand and 0 to 5 on the right."""

    left: int
    right: int

    def __post_init__(self) -> None:
        check_whole("left", self.left, 0, 5)
        check_whole("right", self.right, 0, 5)

    @property
    def alt(self) -> str:
        """Say how many fingers are up, and on which hand."""
        return (
            f"Two hands with {count_of(self.left + self.right, 'finger')} up: "
            f"{self.left} on the left and {self.right} on the right."
        )

    def draw(self) -> Drawing:
        """Lay out the hands as those of Fingers."""
        return _both(self.left, self.right)


def _both(left: int, right: int) -> Drawing:
    """Draw two hands, so many fingers up on each, their thumbs towards each other."""
    base = MARGIN + HAND_HEIGHT - 20
    middle = HAND_WIDTH * 0.42
    width = 2 * (HAND_WIDTH + MARGIN)
    marks = _Hand(MARGIN + middle, base, mirrored=False).marks(left)
    marks += _Hand(width - MARGIN - middle, base, mirrored=True).marks(right)
    return Drawing(width, base + MARGIN, tuple(marks))
