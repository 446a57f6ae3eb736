"""How often one may knock: limits by address and by place that nobody can turn against a family.

Three mails in 15 minutes to one address and ten codes in an hour from one place. Both look back
over a sliding while and count no refused try, so waiting always helps, and a slip from school or
a device that is still signed in lets a family in all the same.
"""

import datetime as dt
from ipaddress import IPv6Address, ip_address, ip_network
from typing import Any

from django.conf import settings
from django.http import HttpRequest

from portal.people.models import Knock, User
from portal.people.models.fingerprints import fingerprint

MAILS_TO_ADDRESS, ADDRESS_WHILE = 3, dt.timedelta(minutes=15)
CODES_FROM_SOURCE, SOURCE_WHILE = 10, dt.timedelta(hours=1)
WRONG_SLIPS_FROM_SOURCE = 30


def source_of(request: HttpRequest) -> str:
    """Give the network address a request comes from; of an IPv6 one, the network of 64 bits.

    Behind a proxy it is the last address in X-Forwarded-For, the only one the proxy itself wrote.
    """
    said = request.META.get("REMOTE_ADDR", "")
    if settings.BEHIND_PROXY:
        said = request.headers.get("X-Forwarded-For", said).split(",")[-1]
    try:
        address = ip_address(said.strip())
    except ValueError:
        return "0.0.0.0"  # noqa: S104 - no address to listen on: a place nobody comes from
    if isinstance(address, IPv6Address) and address.ipv4_mapped:
        return str(address.ipv4_mapped)
    if isinstance(address, IPv6Address):
        return str(ip_network(f"{address.compressed.split('%')[0]}/64", strict=False)[0])
    return str(address)


def may_ask_for_code(request: HttpRequest, email: str) -> bool:
    """Count a wish for a code; False when there were too many to *email* or from this place.

    Whoever is signed in and proves an address is not counted by place: thirty families may come
    in by slip on one evening, in one hall, over one network.
    """
    place_is_free = request.user.is_authenticated or Knock.allows(
        Knock.Kind.CODE_FROM_SOURCE,
        source_of(request),
        most=CODES_FROM_SOURCE,
        within=SOURCE_WHILE,
    )
    return place_is_free and Knock.allows(
        Knock.Kind.CODE_TO_ADDRESS, email, most=MAILS_TO_ADDRESS, within=ADDRESS_WHILE
    )


def may_try_slip(request: HttpRequest) -> bool:
    """Whether letters of a slip may be tried: not after thirty wrong ones from here in an hour."""
    return not Knock.were_too_many(
        Knock.Kind.SLIP_FROM_SOURCE,
        source_of(request),
        most=WRONG_SLIPS_FROM_SOURCE,
        within=SOURCE_WHILE,
    )


def note_wrong_slip(request: HttpRequest) -> None:
    """Count letters that belong to no slip."""
    Knock.note(Knock.Kind.SLIP_FROM_SOURCE, source_of(request))


def account_mark(request: HttpRequest, credentials: dict[str, Any] | None) -> str:
    """Give the mark under which wrong passwords of an account are counted; it names nobody."""
    return fingerprint(User.normalise((credentials or {}).get("username") or ""))
