"""The one-time way in for families: a code and a link by mail."""

import datetime as dt
import secrets
from typing import NamedTuple, Self

from django.db import models
from django.db.models import Q
from django.utils import timezone

from portal.jobs.outbox import UNSENT, Outgoing, OutgoingQuerySet
from portal.people.accounts.models.fingerprints import fingerprint
from portal.people.accounts.models.users import User

CODE_LIFE = dt.timedelta(minutes=10)  # OWASP ASVS 5.0, 6.5.5: at most ten minutes.
CODE_TRIES = 5
PAUSE = dt.timedelta(seconds=5)  # after "not now" by the mail server


class Drawn(NamedTuple):
    """What a mail lets in by: digits to type, or a link to press. Never stored as they are."""

    digits: str
    link: str


class SignInCodeQuerySet(OutgoingQuerySet["SignInCode"]):
    """Codes, by what is left to do with them. Somebody waits for each at a page."""

    lease = dt.timedelta(minutes=1)  # longer than one mail can take, see portal.jobs.smtp
    again_in = dt.timedelta()
    pauses = (PAUSE,) * (CODE_LIFE // PAUSE)
    takes_no_for_an_answer = True

    def live(self) -> Self:
        """Those not out of date."""
        return self.filter(expires_at__gt=timezone.now())

    def unsent(self) -> Self:
        """Live ones whose mail is still to be sent."""
        return super().unsent().live().filter(user__isnull=False)


class SignInCode(Outgoing):
    """Six digits and a link sent by mail; good once, for ten minutes, in the browser that asked.

    The secrets are drawn when the mail is sent. A row without `user` was asked for an address that
    may not come in; nothing is ever sent for it. It is there so that asking takes the same steps,
    and the same time, for every address.
    Each browser has a code of its own, so nobody can spoil another's by asking or guessing.
    """

    user = models.ForeignKey(
        "people.User", on_delete=models.CASCADE, null=True, related_name="sign_in_codes"
    )
    # Set where the code is to prove a new address of somebody who is signed in.
    new_email = models.EmailField(blank=True)
    code_hash = models.CharField(max_length=64, blank=True)
    link_hash = models.CharField(max_length=64, blank=True)
    browser_hash = models.CharField(max_length=64, unique=True)
    tries_left = models.PositiveSmallIntegerField(default=CODE_TRIES)
    expires_at = models.DateTimeField()

    objects = SignInCodeQuerySet.as_manager()

    def __str__(self) -> str:
        return f"code for account {self.user_id}"

    @classmethod
    def ask(cls, user: User | None, browser: str, new_email: str = "") -> "SignInCode":
        """Make the one live code of *browser*; its mail is still to be sent."""
        code, _made = cls.objects.update_or_create(
            browser_hash=fingerprint(browser),
            defaults={
                "user": user,
                "new_email": new_email,
                "code_hash": "",
                "link_hash": "",
                "tries_left": CODE_TRIES,
                "expires_at": timezone.now() + CODE_LIFE,
                **UNSENT,
            },
        )
        return code

    @property
    def address(self) -> str:
        """The address that the mail goes to."""
        return self.new_email or (self.user.email if self.user else "")

    def draw(self) -> Drawn:
        """Give fresh secrets for the mail that is being sent; any earlier ones are useless."""
        drawn = Drawn(f"{secrets.randbelow(1_000_000):06}", secrets.token_urlsafe(24))
        hashes = {"code_hash": fingerprint(drawn.digits), "link_hash": fingerprint(drawn.link)}
        SignInCode.objects.held(self).update(**hashes)
        return drawn

    @classmethod
    def spend(cls, browser: str, secret: str) -> User | None:
        """Use up the digits or link *secret*, and give the account that may come in by it.

        None: wrong, old, another browser's, or tried out.
        """
        found = cls._take(Q(new_email=""), browser, secret)
        return found.user if found else None

    @classmethod
    def spend_for_address(cls, user: User, browser: str, secret: str) -> str | None:
        """Use up *secret*, and give the new address that it proves to be *user*'s; else None."""
        found = cls._take(Q(user=user) & ~Q(new_email=""), browser, secret)
        return found.new_email if found else None

    @classmethod
    def asked_by(cls, browser: str) -> User | None:
        """Return the account that the code of *browser* is for."""
        asked = cls.objects.filter(browser_hash=fingerprint(browser)).select_related("user")
        return next((each.user for each in asked), None)

    @classmethod
    def _take(cls, whose: Q, browser: str, secret: str) -> "SignInCode | None":
        here = cls.objects.live().filter(
            whose, browser_hash=fingerprint(browser), user__is_active=True, tries_left__gt=0
        )
        # The try is counted before the secret is compared, so that two guesses at once are two.
        if not secret or not here.update(tries_left=models.F("tries_left") - 1):
            return None
        mark = fingerprint("".join(secret.split()))
        right = cls.objects.filter(
            Q(code_hash=mark) | Q(link_hash=mark), whose, browser_hash=fingerprint(browser)
        ).select_related("user")
        found = right.first()
        # Of two who send the right one at once, only one finds it still there to delete.
        if (
            found is None
            or not cls.objects.filter(pk=found.pk, code_hash=found.code_hash).delete()[0]
        ):
            return None
        return found
