"""What happens at the door: codes asked for, slips used up."""

import secrets
from contextlib import suppress

from django.contrib import messages
from django.contrib.auth import login
from django.db import transaction
from django.http import HttpRequest
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import get_language
from django.utils.translation import gettext as _

from portal.jobs.sending import sending
from portal.people.accounts.bounces import note_reached
from portal.people.accounts.email_proof import TakenError, prove
from portal.people.accounts.known_browsers import account_here
from portal.people.accounts.models.fingerprints import fingerprint
from portal.people.accounts.next_url import go_on
from portal.people.accounts.rate_limits import may_ask_for_code, may_try_digits, note_wrong_digits
from portal.people.accounts.reauthentication import mark_fresh
from portal.people.audit.log import record
from portal.people.jobs import mail_sign_in_code
from portal.people.languages import keep_choice
from portal.people.models import Event, Guardianship, Invitation, SignInCode, StaffPost, User
from portal.people.timezone_middleware import school_of

MODEL_BACKEND = "django.contrib.auth.backends.ModelBackend"
BROWSER, ADDRESS = "sign-in browser", "sign-in address"


class SlipTakenError(Exception):
    """The slip was used by somebody else a moment ago."""


class TooOftenError(Exception):
    """Codes were asked for too often, to this address or from this place."""


def ask_for_code(request: HttpRequest, email: str) -> None:
    """Send a code to *email* if it may have one. The browser learns nothing either way.

    Staff have a password instead. An address that was never proved gets no code, but for the
    person who is or was signed in with it in this very browser, and proves it by the code. Every
    address takes the same steps, and so the same time. Raises TooOftenError.
    """
    if not may_ask_for_code(request, email, browser_of(request)):
        raise TooOftenError
    request.session[ADDRESS] = email
    user = User.objects.proved(email).first() or account_here(request, email)
    has_post = StaffPost.objects.current().filter(user=user.pk if user else 0).exists()
    may_have_one = user is not None and user.is_active and not has_post
    send_code(request, user if may_have_one else None)


def browser_of(request: HttpRequest) -> str:
    """Return the mark of the browser in hand, which its codes are tied to."""
    return str(request.session.setdefault(BROWSER, secrets.token_urlsafe(24)))


def send_code(request: HttpRequest, user: User | None, new_email: str = "") -> None:
    """Make a code for this browser and have it mailed; for no *user*, do all but the mail."""
    code = SignInCode.ask(user, browser_of(request), new_email)
    transaction.on_commit(sending(mail_sign_in_code, code.pk))


def use_code(request: HttpRequest, secret: str) -> User | None:
    """Return the account that *secret*, digits or link, opens in this browser; else None.

    The mail it came by has proved the address.
    """
    browser = request.session.get(BROWSER, "")
    asked_by = SignInCode.asked_by(browser)
    digits = secret.replace(" ", "").isdecimal()
    may_try = not digits or may_try_digits(request, asked_by)
    user = SignInCode.spend(browser, secret) if may_try else None
    try:
        if user and not user.is_proved:
            prove(user, user.email)
    except TakenError:
        user = None
    if user is None:
        if digits:
            note_wrong_digits(request, asked_by)
        record(request, Event.What.SIGN_IN_FAILED, asked_by, school=school_of(asked_by))
        return None
    note_reached(user)
    return user


def let_in_by_code(request: HttpRequest, user: User) -> str:
    """Sign in *user*, whose code was right, and give the address to go on to.

    Whoever works at a school meanwhile comes in by password, and is told so.
    """
    return password_instead(request) if user.has_post else let_in(request, user)


def password_instead(request: HttpRequest) -> str:
    """Tell somebody who works at a school how they come in, and give the address of that door."""
    messages.info(
        request,
        _(
            "You work at a school here: sign in with your password. If you have none yet, a mail "
            "with a link to set it is on its way."
        ),
    )
    return reverse("people:staff-sign-in")


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

    One that was mailed takes those to sisters and brothers along, and proves the address it went
    to. Without *user*, an account is made; *email* may be empty. Raises SlipTakenError when
    another was quicker.
    """
    email = email or invitation.email
    open_still = Invitation.objects.open().filter(pk=invitation.pk)
    if not open_still.update(used_at=timezone.now(), email=""):
        raise SlipTakenError
    if user is None:
        user = User.objects.create_user(email, name, language=get_language())
    for each in [invitation, *invitation.taken_along()]:
        Guardianship.objects.get_or_create(
            adult=user, child=each.child, ended_at=None, defaults={"home": each.home}
        )
    invitation.taken_along().update(used_at=timezone.now(), email="")
    if invitation.email_key == fingerprint(email) and not user.is_proved:
        with suppress(TakenError):
            prove(user, email)
    return user


def place_of(user: User) -> str:
    """Give the name of the page on which *user* starts: staff at their classes, families today."""
    return "people:classes" if user.has_post else "tasks:today"
