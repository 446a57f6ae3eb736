"""A scene: one prompt as it stands before a class, in a box of 1000 by 600 units.

It knows no page and no clock: whatever shows it, prints it or plays it again has the same things
by the same numbers at the same places.
"""

import json
from dataclasses import dataclass
from xml.sax.saxutils import quoteattr

from tasks.lessons.taking_apart import Apart, Piece, Spot, take_apart
from tasks.numberwork.pictures import CompareSets, Picture, Plates, ScatteredDots
from tasks.numberwork.pictures.ink import LINE, number
from tasks.numberwork.prompt import Answer, Prompt

WIDE, HIGH = 1000, 600
LARGEST = 4.5  # times as large as on a card, so that a counter stays a counter
ROOM = (840, 440)  # of a picture whose things lie close and have nowhere of their own to go


@dataclass(frozen=True, slots=True)
class Thing:
    """Something that can be moved: the middle of where it lies, how far it reaches, its look."""

    name: str
    x: int
    y: int
    reach: int
    look: str


@dataclass(frozen=True, slots=True)
class Place:
    """Somewhere a thing can be put. holds: 1, in the middle; 0, any number, where they are put."""

    name: str
    x: int
    y: int
    reach: int
    holds: int


@dataclass(frozen=True, slots=True)
class Scene:
    """One prompt before a class.

    sentence: as written. spoken: the words to say. answers: every right one; none where nothing
    is marked. told: what the picture shows, in words. ground: the marks that stay.
    is_mat: its places are empty on paper, for things of the classroom.
    """

    sentence: str
    spoken: str
    answers: tuple[Answer, ...]
    told: str = ""
    ground: str = ""
    things: tuple[Thing, ...] = ()
    places: tuple[Place, ...] = ()
    is_mat: bool = False

    @property
    def svg(self) -> str:
        """Draw the scene, each thing in a group of its own about its middle; "" without picture.

        What it shows is a label and no title: a title would be seen where the hand rests.
        """
        if not self.told:
            return ""
        places = [[each.name, each.x, each.y, each.reach, each.holds] for each in self.places]
        drawn = [
            f'<g class="thing" data-name={quoteattr(each.name)} data-x="{each.x}" '
            f'data-y="{each.y}" data-reach="{each.reach}" '
            f'transform="translate({each.x} {each.y})">'
            f'<circle class="thing-edge" r="{each.reach}" fill="none" stroke="none"/>'
            f"{each.look}</g>"
            for each in self.things
        ]
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDE} {HIGH}" role="img" '
            f'class="scene-picture{" scene-mat" if self.is_mat else ""}" '
            f"aria-label={quoteattr(self.told)} data-places={quoteattr(json.dumps(places))} "
            f'fill="none" stroke="currentColor" stroke-width="{number(LINE)}" '
            f'stroke-linecap="round" stroke-linejoin="round">{self.ground}{"".join(drawn)}</svg>'
        )


def make_scene(prompt: Prompt) -> Scene:
    """Set the scene of *prompt*: its picture as large as there is room for, its things loose."""
    answers = prompt.right_answers if prompt.can_be_marked else ()
    if prompt.picture is None:
        return Scene(prompt.sentence, prompt.spoken, answers)
    apart = take_apart(prompt.picture)
    fit = Fit.of(prompt.picture, apart)
    return Scene(
        prompt.sentence,
        prompt.spoken,
        answers,
        prompt.picture.alt,
        f'<g transform="{fit.into_box}">{"".join(apart.ground)}</g>',
        tuple(fit.thing(piece) for piece in apart.pieces),
        tuple(fit.place(spot) for spot in apart.spots),
        isinstance(prompt.picture, Plates),
    )


@dataclass(frozen=True, slots=True)
class Fit:
    """How a picture is brought into the box: so many times as large, and moved."""

    scale: float
    left: float
    top: float

    @classmethod
    def of(cls, picture: Picture, apart: Apart) -> "Fit":
        """Fit *picture* into the middle of the box."""
        width, height, _marks = picture.draw()
        is_spread = isinstance(picture, ScatteredDots | CompareSets)
        is_close = apart.pieces and not apart.spots and not is_spread
        wide, high = ROOM if is_close else (WIDE, HIGH)
        scale = min(wide / width, high / height, LARGEST)
        return cls(scale, (WIDE - scale * width) / 2, (HIGH - scale * height) / 2)

    @property
    def into_box(self) -> str:
        """Return it as SVG writes it."""
        return f"translate({number(self.left)} {number(self.top)}) scale({number(self.scale)})"

    def at(self, x: float, y: float) -> tuple[int, int]:
        """Return where a point of the picture lies in the box."""
        return round(self.left + self.scale * x), round(self.top + self.scale * y)

    def place(self, spot: Spot) -> Place:
        """Return *spot* of the picture as a place of the box."""
        reach = round(self.scale * spot.reach)
        return Place(spot.name, *self.at(spot.x, spot.y), reach, spot.holds)

    def thing(self, piece: Piece) -> Thing:
        """Return *piece* of the picture as a thing of the box, drawn about its own middle."""
        look = (
            f'<g transform="scale({number(self.scale)}) '
            f'translate({number(-piece.x)} {number(-piece.y)})">{"".join(piece.marks)}</g>'
        )
        reach = round(self.scale * piece.reach)
        return Thing(piece.name, *self.at(piece.x, piece.y), reach, look)
