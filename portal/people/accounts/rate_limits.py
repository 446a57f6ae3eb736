"""How often one may knock: limits that nobody can turn against somebody else.

What is counted is counted for an account *and* a place, so a stranger elsewhere uses nothing up; a
browser in which somebody has been signed in has a count of its own, which nobody else comes near.
Over all places there is one cap a day for each account, against guessing and floods of mail: past
it, such a browser, the link in the mail, or a slip from school still lets the rightful person in.
Every limit looks back over a sliding while and counts no refused try, so waiting always helps.
Known and unknown addresses are counted alike.
"""

import datetime as dt
from ipaddress import IPv6Address, ip_address, ip_network
from typing import Any

from django.conf import settings
from django.http import HttpRequest

from portal.people.accounts.known_browsers import account_here
from portal.people.accounts.models.fingerprints import fingerprint
from portal.people.models import SignInAttempt, User

Kind = SignInAttempt.Kind
ADDRESS_WHILE, PLACE_WHILE, DAY = (
    dt.timedelta(minutes=15),
    dt.timedelta(hours=1),
    dt.timedelta(days=1),
)
CODES_IN_BROWSER = 3  # for one address, in ADDRESS_WHILE
CODES_FROM_PLACE = 10  # for one address, in ADDRESS_WHILE
CODES_A_DAY = 30  # for one address, from browsers it is not known in
WRONG_DIGITS_A_DAY = 20  # for one account, in browsers it is not known in
WRONG_PASSWORDS_A_DAY = 50  # for one account, in browsers it is not known in
WRONG_SLIPS_FROM_PLACE = 30  # in PLACE_WHILE; right letters let in all the same
NETWORKS_OF_A_SITE = 3  # of 64 bits, a day; from then on the site of 48 bits is one place


def source_of(request: HttpRequest) -> str:
    """Return the network address a request comes from; of an IPv6 one, the network of 64 bits.

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


def place_of(request: HttpRequest) -> str:
    """Return the place that tries are counted for: where a request comes from.

    Of an IPv6 site of 48 bits, each network of 64 is a place; after a few of them in one day, the
    site is: whoever rents one has 65,536 networks to knock from.
    """
    source = source_of(request)
    if ":" not in source:
        return source
    site = str(ip_network(f"{source}/48", strict=False)[0])
    if SignInAttempt.allows(Kind.NETWORK_OF_SITE, source, most=1, within=DAY):
        SignInAttempt.note(Kind.SITE, site)
    wide = SignInAttempt.were_too_many(Kind.SITE, site, most=NETWORKS_OF_A_SITE + 1, within=DAY)
    return site if wide else source


def may_ask_for_code(request: HttpRequest, email: str, browser: str) -> bool:
    """Count a wish of *browser*, by its mark, for a code to *email*; False after too many."""
    if account_here(request, email):
        limits = [(f"{email} own", CODES_IN_BROWSER, ADDRESS_WHILE)]
    else:
        limits = [
            (f"{email} in {browser}", CODES_IN_BROWSER, ADDRESS_WHILE),
            (f"{email} at {place_of(request)}", CODES_FROM_PLACE, ADDRESS_WHILE),
            (f"{email} anywhere", CODES_A_DAY, DAY),
        ]
    kind = Kind.CODE_TO_ADDRESS
    if any(
        SignInAttempt.were_too_many(kind, who, most=most, within=span) for who, most, span in limits
    ):
        return False
    for who, _most, _span in limits:
        SignInAttempt.note(kind, who)
    return True


def may_try_digits(request: HttpRequest, user: User | None) -> bool:
    """Whether the digits of a mail may be typed here: else the link in it lets in alone."""
    if user is None or account_here(request, user.email):
        return True
    return not SignInAttempt.were_too_many(
        Kind.WRONG_DIGITS, f"{user.pk}", most=WRONG_DIGITS_A_DAY, within=DAY
    )


def note_wrong_digits(request: HttpRequest, user: User | None) -> None:
    """Count digits that were not those of the mail to *user*."""
    if user and not account_here(request, user.email):
        SignInAttempt.note(Kind.WRONG_DIGITS, f"{user.pk}")


def may_try_password(request: HttpRequest, email: str) -> bool:
    """Whether a password of *email* may be tried here; how often in a row is counted elsewhere."""
    if account_here(request, email):
        return True
    email = User.normalise(email)
    return not SignInAttempt.were_too_many(
        Kind.WRONG_PASSWORD, email, most=WRONG_PASSWORDS_A_DAY, within=DAY
    )


def note_wrong_password(request: HttpRequest, email: str) -> None:
    """Count a wrong password of *email*."""
    if not account_here(request, email):
        SignInAttempt.note(Kind.WRONG_PASSWORD, User.normalise(email))


def were_slips_wrong_too_often(request: HttpRequest) -> bool:
    """Count letters that belong to no slip; True when there were thirty from here in an hour."""
    return not SignInAttempt.allows(
        Kind.SLIP_FROM_SOURCE, place_of(request), most=WRONG_SLIPS_FROM_PLACE, within=PLACE_WHILE
    )


def account_mark(request: HttpRequest, credentials: dict[str, Any] | None) -> str:
    """Return the mark under which wrong passwords of an account are counted; it names nobody.

    A browser that the account has been signed in with has a mark, and so a count, of its own.
    """
    email = User.normalise((credentials or {}).get("username") or "")
    return fingerprint(f"{email} own" if account_here(request, email) else email)
