"""How an invitation looks on paper."""

import segno
from django.conf import settings
from django.urls import reverse
from django.utils.safestring import SafeString, mark_safe


def slip_address(slip: str) -> str:
    """Give the page that takes *slip*. The code is a fragment: browsers send it to no server."""
    return f"{settings.SITE_URL}{reverse('people:come-in')}#{slip}"


def qr_code(text: str) -> SafeString:
    """Draw *text* as a QR code (ISO/IEC 18004) in SVG, without styles a strict page refuses."""
    drawn = segno.make(text, error="m").svg_inline(scale=4, border=4, dark="#000", light="#fff")
    return mark_safe(drawn)  # noqa: S308 - made by segno from our own address, nothing typed
