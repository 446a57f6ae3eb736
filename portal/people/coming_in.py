"""What happens at the door: codes asked for, slips used up."""

import secrets

from django.db import transaction
from django.http import HttpRequest
from django.utils import timezone

from portal.people.jobs import send_code_soon
from portal.people.models import Guardianship, Invitation, SignInCode, User

BROWSER, ADDRESS = "sign-in browser", "sign-in address"


class SlipTakenError(Exception):
    """The slip was used by somebody else a moment ago."""


def ask_for_code(request: HttpRequest, email: str) -> None:
    """Send a code to *email* if it may have one. The browser learns nothing either way.

    Staff have a password instead. An address that was never confirmed gets no code, but for
    the person who is signed in with it and is confirming it now.
    """
    request.session[ADDRESS] = email
    browser = request.session.setdefault(BROWSER, secrets.token_urlsafe(24))
    user = User.objects.filter(email=email, is_active=True).first()
    if user is None or user.has_post:
        return
    if user.email_confirmed_at is None and user != request.user:
        return
    code = SignInCode.ask(user, browser)
    transaction.on_commit(lambda: send_code_soon(code.pk))


def use_code(request: HttpRequest, digits: str) -> User | None:
    """Give the account that *digits* open in this browser, its address confirmed; else None."""
    email, browser = request.session.get(ADDRESS, ""), request.session.get(BROWSER, "")
    user = SignInCode.spend(email, browser, digits)
    if user and user.email_confirmed_at is None:
        user.email_confirmed_at = timezone.now()
        user.save(update_fields=["email_confirmed_at"])
    return user


@transaction.atomic
def use_slip(invitation: Invitation, user: User | None, *, name: str, email: str) -> User:
    """Make the holder of *invitation* an adult at home of its child, once.

    Without *user*, an account is made for *email*. Raises SlipTakenError when another was quicker.
    """
    if not Invitation.objects.open().filter(pk=invitation.pk).update(used_at=timezone.now()):
        raise SlipTakenError
    user = user or User.objects.create_user(email, name)
    Guardianship.objects.get_or_create(
        adult=user, child=invitation.child, ended_at=None, defaults={"home": invitation.home}
    )
    return user


def place_of(user: User) -> str:
    """Give the name of the page on which *user* starts: staff at their classes, families today."""
    return "people:classes" if user.has_post else "tasks:today"
