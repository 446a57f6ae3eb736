"""How long somebody stays signed in, and on which of their devices."""

import datetime as dt
import logging
from collections.abc import Callable
from typing import NamedTuple

from django.contrib import messages
from django.contrib.auth.models import AnonymousUser
from django.contrib.sessions.exceptions import SessionInterrupted
from django.contrib.sessions.middleware import SessionMiddleware
from django.db import DatabaseError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import Resolver404, resolve, reverse
from django.utils import timezone
from django.utils.http import urlencode
from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop

from portal.people.accounts.known_browsers import leave
from portal.people.asking import SignedInRequest, is_signed_in
from portal.people.models import Device

log = logging.getLogger(__name__)
BEGAN, SEEN, DEVICE, DEVICE_KEY = "began", "seen", "device", "device key"
# Known by an address that nobody guesses: what has begun to be sent goes on without a session.
GOES_ON_WITHOUT = {"evidence:upload"}
# Asked by pages of themselves: nobody need be there for these.
ASKED_BY_PAGES = {"evidence:piece-state", "evidence:piece"}


class Limits(NamedTuple):
    """After how long away, and how long in all, one has to sign in again.

    *step*: how exactly it is known when somebody was last there.
    """

    away: dt.timedelta
    in_all: dt.timedelta
    step: dt.timedelta


# OWASP ASVS 5.0, 7.3.1 and 7.3.2 ask for both limits; the figures are our own.
STAFF = Limits(dt.timedelta(minutes=30), dt.timedelta(hours=12), dt.timedelta(minutes=1))
FAMILY = Limits(dt.timedelta(days=14), dt.timedelta(days=90), dt.timedelta(hours=1))
# What a family was writing or sending when its time ran out is still taken.
GRACE_TO_SEND = dt.timedelta(hours=1)


class Sessions(SessionMiddleware):
    """Keep sessions, and serve a page even where a full disk does not take what changed in one."""

    def process_response(self, request: HttpRequest, response: HttpResponse) -> HttpResponse:
        """Save the session. Raises SessionInterrupted when it was ended meanwhile."""
        try:
            return super().process_response(request, response)
        except SessionInterrupted:
            if not request.session.exists(request.session.session_key or ""):
                raise
            log.exception("a session could not be saved")
            return response


class SessionLimits:
    """End sessions that have run out, and note which devices are signed in."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        if is_signed_in(request) and is_over(request):
            if not goes_on_without(request):
                return sign_out_and_say_so(request)
            forget(request)
        response = self.get_response(request)
        if is_signed_in(request):
            try:
                note_presence(request)
            except DatabaseError:
                log.exception("it could not be noted that somebody was here")
        return response


def forget(request: HttpRequest) -> None:
    """Treat who was signed in until now as nobody, in this request alone."""
    request.ran_out = request.user.pk  # type: ignore[attr-defined] # for `left_by_time`
    request.user = AnonymousUser()


def limits_of(request: SignedInRequest) -> Limits:
    """Give the limits for who is signed in: the strict ones for anybody who works at a school."""
    return STAFF if request.user.has_post else FAMILY


def is_over(request: SignedInRequest) -> bool:
    """Whether the time of this session has run out."""
    limits = limits_of(request)
    now = timezone.now().timestamp()
    away = now - request.session.get(SEEN, now)
    in_all = now - request.session.get(BEGAN, now)
    grace = 0.0
    if limits is FAMILY and request.method not in ("GET", "HEAD"):
        grace = GRACE_TO_SEND.total_seconds()
    return bool(
        away > limits.away.total_seconds() + grace or in_all > limits.in_all.total_seconds() + grace
    )


def goes_on_without(request: HttpRequest) -> bool:
    """Whether the page asked for needs no session."""
    try:
        return resolve(request.path_info).view_name in GOES_ON_WITHOUT
    except Resolver404:
        return False


def sign_out_and_say_so(request: SignedInRequest) -> HttpResponse:
    """End the session and lead to the door; from there, back to the page that was asked for."""
    door = reverse("people:staff-sign-in" if request.user.has_post else "people:sign-in")
    Device.objects.filter(session_key=request.session.session_key).delete()
    leave(request, ran_out=True)
    messages.info(request, _("You were signed out because your time had run out. Sign in again."))
    if request.method in ("GET", "HEAD"):
        door = f"{door}?{urlencode({'next': request.get_full_path()})}"
    if "HX-Request" in request.headers:
        return HttpResponse(status=204, headers={"HX-Redirect": door})
    return redirect(door)


def note_presence(request: SignedInRequest) -> None:
    """Note when somebody was here, at most once a step, and on which device."""
    session, now = request.session, timezone.now()
    if BEGAN not in session:
        session[BEGAN] = session[SEEN] = int(now.timestamp())
    elif now.timestamp() - session[SEEN] >= limits_of(request).step.total_seconds():
        match = request.resolver_match
        if match is None or match.view_name not in ASKED_BY_PAGES:
            session[SEEN] = int(now.timestamp())
            Device.objects.filter(pk=session.get(DEVICE, 0)).update(seen_at=now)
    # The key of a session changes at every sign-in and step up.
    if session.get(DEVICE_KEY) != session.session_key and session.session_key:
        note_device(request)


def note_device(request: SignedInRequest) -> None:
    """Tie the device in the list of who is signed in to the session's new key."""
    session = request.session
    key = session.session_key or ""
    known = Device.objects.filter(pk=session.get(DEVICE, 0), user=request.user)
    if not known.update(session_key=key):
        fields = {"user": request.user, "label": label_of(request.headers.get("User-Agent", ""))}
        # Of a page that failed the session forgets what was noted; the row is there.
        session[DEVICE] = Device.objects.update_or_create(fields, session_key=key)[0].pk
    session[DEVICE_KEY] = key


def label_of(user_agent: str) -> str:
    """Return the sort of device, in a word its owner knows it by; no more of it is kept.

    The word is kept in English, and translated where it is shown.
    """
    sorts = (
        ("iPhone", "iPhone"),
        ("iPad", "iPad"),
        ("Android", gettext_noop("Android phone or tablet")),
        ("Windows", gettext_noop("Windows computer")),
        ("CrOS", gettext_noop("Chromebook")),
        ("Macintosh", "Mac"),
        ("Linux", gettext_noop("Linux computer")),
    )
    return next(
        (name for mark, name in sorts if mark in user_agent), gettext_noop("another device")
    )
