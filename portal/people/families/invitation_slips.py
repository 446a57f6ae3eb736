"""How an invitation looks on paper."""

from typing import NamedTuple

import segno
from django.conf import settings
from django.urls import reverse
from django.utils.safestring import SafeString, mark_safe

from portal.people.models import Child, Home, Invitation, User

MODULE = 0.75  # mm; common practice, no source: a phone a hand away reads 0.4 mm and more


class Slip(NamedTuple):
    """One invitation to be printed: whose, its letters, where to go, and both as a QR code."""

    child: Child
    letters: str
    page: str
    qr: SafeString
    language: str


def print_slip(child: Child, home: Home, made_by: User, language: str) -> Slip:
    """Make an invitation of an adult in *home* to *child*, ready to be printed, this once.

    *language*: of its words, by its code.
    """
    letters = Invitation.issue(child, home, made_by, language)
    address = slip_address(letters)
    return Slip(child, letters, address.split("#")[0], qr_code(address), language)


def home_to_invite_to(child: Child, choice: str) -> Home:
    """Give the home of *child* that *choice* names by its key; a new one for "new" or none yet."""
    homes = Home.objects.of(child)
    home = homes.filter(pk=choice).first() if choice.isdecimal() else None
    if home is None and choice != "new":
        home = homes.first()
    return home or Home.objects.create(school=child.school)


def slip_address(slip: str) -> str:
    """Return the page that takes *slip*. The code is a fragment: browsers send it to no server."""
    return f"{settings.SITE_URL}{reverse('people:come-in')}#{slip}"


def qr_code(text: str) -> SafeString:
    """Draw *text* as a QR code (ISO/IEC 18004) in SVG, without styles a strict page refuses.

    The longer the text the larger the drawing, so that each of its dots stays MODULE wide.
    """
    # A unit makes segno give a view box: without it a page that sets a width cuts the code off.
    made = segno.make(text, error="m")
    drawn = made.svg_inline(scale=MODULE, unit="mm", border=4, dark="#000", light="#fff")
    return mark_safe(drawn)  # noqa: S308 - made by segno from our own address, nothing typed
