"""What happens at the door: codes asked for, slips used up."""

import secrets

from django.contrib.auth import login
from django.db import transaction
from django.http import HttpRequest
from django.utils import timezone
from django.utils.translation import get_language

from portal.people.audit import record
from portal.people.bounces import note_reached
from portal.people.door_limits import may_ask_for_code
from portal.people.fresh import mark_fresh
from portal.people.going_on import go_on
from portal.people.here import school_of
from portal.people.jobs import send_code_soon
from portal.people.languages import keep_choice
from portal.people.models import Event, Guardianship, Invitation, SignInCode, StaffPost, User
from portal.people.models.fingerprints import fingerprint

MODEL_BACKEND = "django.contrib.auth.backends.ModelBackend"
BROWSER, ADDRESS = "sign-in browser", "sign-in address"


class SlipTakenError(Exception):
    """The slip was used by somebody else a moment ago."""


class TooOftenError(Exception):
    """Codes were asked for too often, to this address or from this place."""


def ask_for_code(request: HttpRequest, email: str) -> None:
    """Send a code to *email* if it may have one. The browser learns nothing either way.

    Staff have a password instead. An address that was never confirmed gets no code, but for the
    person who is signed in with it and is confirming it now. Every address takes the same steps,
    and so the same time. Raises TooOftenError.
    """
    if not may_ask_for_code(request, email):
        raise TooOftenError
    request.session[ADDRESS] = email
    posts = StaffPost.objects.current().filter(user__email=email)
    known = User.objects.filter(email=email, is_active=True).exclude(pk__in=posts.values("user"))
    user = known.first()
    if user and user.email_confirmed_at is None and user != request.user:
        user = None
    send_code(request, user)


def send_code(request: HttpRequest, user: User | None, new_email: str = "") -> None:
    """Make a code for this browser and have it mailed; for no *user*, do all but the mail."""
    browser = request.session.setdefault(BROWSER, secrets.token_urlsafe(24))
    code = SignInCode.ask(user, browser, new_email)
    transaction.on_commit(lambda: send_code_soon(code.pk))


def use_code(request: HttpRequest, secret: str) -> User | None:
    """Give the account that *secret*, digits or link, opens in this browser; else None."""
    email, browser = request.session.get(ADDRESS, ""), request.session.get(BROWSER, "")
    user = SignInCode.spend(email, browser, secret)
    if user is None:
        known = User.objects.filter(email=email).first()
        record(request, Event.What.SIGN_IN_FAILED, known, school=school_of(known))
        return None
    note_reached(user)
    if user.email_confirmed_at is None:
        user.email_confirmed_at = timezone.now()
        user.save(update_fields=["email_confirmed_at"])
    return user


def let_in(request: HttpRequest, user: User) -> str:
    """Sign *user* in, note it, and give the address to go on to."""
    after = go_on(request)
    keep_choice(request, user)
    login(request, user, backend=MODEL_BACKEND)
    mark_fresh(request)
    record(request, Event.What.SIGNED_IN, who=user)
    return after


@transaction.atomic
def use_slip(invitation: Invitation, user: User | None, *, name: str, email: str) -> User:
    """Make the holder of *invitation* an adult at home of its child, once.

    One that was mailed takes those to sisters and brothers along. Without *user*, an account is
    made for *email*; it counts as confirmed when the invitation was mailed there. Raises
    SlipTakenError when another was quicker.
    """
    open_still = Invitation.objects.open().filter(pk=invitation.pk)
    if not open_still.update(used_at=timezone.now(), email=""):
        raise SlipTakenError
    proved = invitation.email_key == fingerprint(email)
    if user is None:
        confirmed = timezone.now() if proved else None
        user = User.objects.create_user(
            email, name, email_confirmed_at=confirmed, language=get_language()
        )
    for each in [invitation, *invitation.taken_along()]:
        Guardianship.objects.get_or_create(
            adult=user, child=each.child, ended_at=None, defaults={"home": each.home}
        )
    invitation.taken_along().update(used_at=timezone.now(), email="")
    return user


def place_of(user: User) -> str:
    """Give the name of the page on which *user* starts: staff at their classes, families today."""
    return "people:classes" if user.has_post else "tasks:today"
