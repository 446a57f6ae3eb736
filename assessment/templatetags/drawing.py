"""What a teacher drew over pictures, and the way to draw: {% load drawing %}."""

from django import template

from assessment.looks.drawing import pictures
from assessment.looks.drawing.pictures import Picture
from assessment.models import Look
from evidence.models import Piece, Rendition

register = template.Library()


@register.simple_tag
def drawn_for_family(look: Look) -> list[Picture]:
    """Return the pictures that the home sees strokes over."""
    return pictures.drawn_on(look.submission, look.for_family.strokes)


@register.simple_tag
def picture_of(piece: Piece, shown: Rendition) -> Picture:
    """Return *shown* as a picture that can be drawn on."""
    return Picture(piece, shown)
