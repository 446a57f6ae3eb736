"""How much one form, one submission and one home may send; what one file may be is in LIMITS."""

import datetime as dt
from typing import NamedTuple

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from evidence.media import LIMITS, Kind

MB = 1_000_000
MAX_PIECES = 12  # in one submission, and so in one form
MAX_BYTES = 1_000 * MB  # of all pieces of one submission
HOME_PIECES, HOME_BYTES = 60, 3_000 * MB  # from one home, in HOME_SPAN
HOME_SPAN = dt.timedelta(days=1)
HOME_OPEN = 24  # uploads of one home that are on their way at the same time
HOME_STARTS, STARTS_SPAN = 240, dt.timedelta(hours=1)  # uploads that one home may begin
FREE_BYTES = 64 * MB  # of the disk, left for the database and for what is being prepared
# A form that says it is larger than this is turned away unread.
MAX_FORM_BYTES = 2 * MAX_BYTES

WHAT = {
    Kind.PHOTO: (gettext_lazy("Photos"), "JPEG, PNG, WebP, HEIC, AVIF, GIF"),
    Kind.CLIP: (gettext_lazy("Clips"), "MP4, MOV, 3GP, WebM"),
    Kind.VOICE: (gettext_lazy("Voice notes"), "M4A, MP3, OGG, WAV"),
    Kind.PAGE: (gettext_lazy("Pages"), "PDF"),
}


class Allowed(NamedTuple):
    """One line of the table that families can read: what, in which formats, how much."""

    what: str
    formats: str
    most: str


def megabytes(size: int) -> str:
    """Write *size* in bytes as whole megabytes, rounded up."""
    return _("%(count)d MB") % {"count": -(-size // MB)}


def table() -> list[Allowed]:
    """List what may be sent; the numbers are those that the code refuses by."""
    more = {
        Kind.PHOTO: _("%(count)d million dots") % {"count": LIMITS.pixels // MB},
        Kind.CLIP: _("%(count)d minutes") % {"count": LIMITS.seconds // 60},
        Kind.VOICE: _("%(count)d minutes") % {"count": LIMITS.seconds // 60},
        Kind.PAGE: _("%(count)d pages") % {"count": LIMITS.pages},
    }
    return [
        Allowed(str(what), formats, f"{megabytes(LIMITS.allowance(kind).bytes)}, {more[kind]}")
        for kind, (what, formats) in WHAT.items()
    ]
