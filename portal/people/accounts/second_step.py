"""The second step of staff: six digits from an app (RFC 6238), or a recovery code."""

import datetime as dt
from base64 import b32encode
from collections.abc import Callable
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django_otp.oath import TOTP
from django_otp.plugins.otp_totp.models import TOTPDevice, default_key

from portal.people.accounts.next_url import remember
from portal.people.asking import SignedInRequest
from portal.people.models import RecoveryCode, SignInAttempt, User

PASSED, NEW_KEY = "second step", "second step key"
# What somebody who still has to take the second step may open, besides the public pages.
BEFORE_IT = {"people:second-step", "people:second-step-set", "people:again"}
TRIES, WITHIN = 10, dt.timedelta(minutes=15)


class SecondStep:
    """Keep staff from every page until the second step is taken, where one is called for."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        return self.get_response(request)

    def process_view(
        self, request: HttpRequest, view: Callable[..., HttpResponse], args: Any, kwargs: Any
    ) -> HttpResponse | None:
        """Lead to the second step, or to where it is set up; None to go on."""
        is_public = getattr(view, "login_required", True) is False
        match = request.resolver_match
        if is_public or (match and match.view_name in BEFORE_IT):
            return None
        place = step_missing(request)
        if place is None:
            return None
        remember(request)
        return redirect(place)


def step_missing(request: HttpRequest) -> str | None:
    """Return the name of the page where the second step is to be taken or set up, if it is."""
    user = request.user
    if not user.is_authenticated or not user.has_post or PASSED in request.session:
        return None
    if has_second_step(user):
        return "people:second-step"
    if any(post.school.requires_second_factor for post in user.posts_held):
        return "people:second-step-set"
    return None


def has_second_step(user: User) -> bool:
    """Whether *user* has set up a second step."""
    return bool(TOTPDevice.objects.filter(user=user, confirmed=True).exists())


def pass_second_step(request: SignedInRequest) -> None:
    """Let who is signed in to the pages of children; the session gets a new id (ASVS 7.2.4)."""
    SignInAttempt.forget(SignInAttempt.Kind.SECOND_STEP, f"{request.user.pk}")
    request.session[PASSED] = int(timezone.now().timestamp())
    request.session.cycle_key()


def may_try(user: User) -> bool:
    """Count a try at the second step; False after ten within a quarter of an hour."""
    return SignInAttempt.allows(
        SignInAttempt.Kind.SECOND_STEP, f"{user.pk}", most=TRIES, within=WITHIN
    )


def are_digits_of(user: User, typed: str) -> bool:
    """Whether *typed* is what the app of *user* shows now. The same digits never pass twice."""
    device = TOTPDevice.objects.filter(user=user, confirmed=True).first()
    return device is not None and bool(device.verify_token("".join(typed.split())))


def new_device(request: SignedInRequest) -> TOTPDevice:
    """Return the device that is being set up; its key waits in the session, nothing is stored."""
    key = request.session.setdefault(NEW_KEY, default_key())
    return TOTPDevice(user=request.user, key=key, name="app")


def readable_key(device: TOTPDevice) -> str:
    """Return the key of *device* in letters, for an app that cannot see the square."""
    return b32encode(device.bin_key).decode().rstrip("=")


def set_up(request: SignedInRequest, typed: str) -> list[str] | None:
    """Keep the new device if *typed* is what it shows, and give recovery codes; else None."""
    device = new_device(request)
    clock = TOTP(device.bin_key, device.step, device.t0, device.digits)
    digits = "".join(typed.split())
    if not digits.isdecimal() or not clock.verify(int(digits), tolerance=device.tolerance):
        return None
    device.last_t = clock.t()
    TOTPDevice.objects.filter(user=request.user).delete()
    device.save()
    del request.session[NEW_KEY]
    return RecoveryCode.issue(request.user)


def remove(user: User) -> None:
    """Remove the second step of *user*, with the recovery codes."""
    TOTPDevice.objects.filter(user=user).delete()
    user.recovery_codes.all().delete()
