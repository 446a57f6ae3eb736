"""One-time ways in: a code by mail, and an invitation on paper."""

import datetime as dt
import hashlib
import hmac
import secrets
from typing import Self

from django.conf import settings
from django.db import models
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from portal.people.models.accounts import User
from portal.people.models.families import Child, Home

CODE_LIFE = dt.timedelta(minutes=10)  # OWASP ASVS 5.0, 6.5.5: at most ten minutes.
CODE_TRIES = 5
INVITATION_LIFE = dt.timedelta(days=7)
# No letters or digits that look alike on paper, and none that make words.
SLIP_LETTERS = "BCDFGHJKMNPQRTVWXYZ2346789"


def fingerprint(secret: str) -> str:
    """Give what is stored of *secret*: a keyed hash, useless to whoever reads the database."""
    return hmac.new(settings.SECRET_KEY.encode(), secret.encode(), hashlib.sha256).hexdigest()


class SignInCode(models.Model):
    """Six digits sent by mail; good once, for ten minutes, in the browser that asked.

    A row without `code_hash` waits for its mail: the digits are made when that is sent, so that
    asking takes as long for an unknown address as for a known one.
    """

    user = models.OneToOneField(
        "people.User", on_delete=models.CASCADE, related_name="sign_in_code"
    )
    code_hash = models.CharField(max_length=64, blank=True)
    browser_hash = models.CharField(max_length=64)
    tries_left = models.PositiveSmallIntegerField(default=CODE_TRIES)
    expires_at = models.DateTimeField()

    def __str__(self) -> str:
        return f"code for account {self.user_id}"

    @classmethod
    def ask(cls, user: User, browser: str) -> "SignInCode":
        """Make the one live code of *user*, bound to *browser*; its mail is still to be sent."""
        code, _made = cls.objects.update_or_create(
            user=user,
            defaults={
                "code_hash": "",
                "browser_hash": fingerprint(browser),
                "tries_left": CODE_TRIES,
                "expires_at": timezone.now() + CODE_LIFE,
            },
        )
        return code

    @classmethod
    def draw(cls, pk: int) -> str | None:
        """Give fresh digits for the row *pk* that waits for its mail; None: not there to take."""
        digits = f"{secrets.randbelow(1_000_000):06}"
        waiting = cls.objects.filter(pk=pk, code_hash="", expires_at__gt=timezone.now())
        return digits if waiting.update(code_hash=fingerprint(digits)) else None

    @classmethod
    def spend(cls, email: str, browser: str, code: str) -> User | None:
        """Use up *code* and give its account. None: wrong, old, another browser's, or tried out."""
        live = cls.objects.filter(
            user__email=email, user__is_active=True, expires_at__gt=timezone.now(), tries_left__gt=0
        )
        # The try is counted before the code is compared, so that two guesses at once are two.
        if not live.update(tries_left=models.F("tries_left") - 1):
            return None
        right = cls.objects.filter(
            user__email=email,
            code_hash=fingerprint("".join(code.split())),
            browser_hash=fingerprint(browser),
        ).select_related("user")
        found = right.first()
        if found is None or not right.delete()[0]:
            return None
        return found.user


class InvitationQuerySet(models.QuerySet["Invitation"]):
    """Invitations, by whether they still open the door."""

    def open(self) -> Self:
        """Those neither used, revoked nor out of date."""
        return self.filter(used_at=None, revoked_at=None, expires_at__gt=timezone.now())

    def revoke(self) -> int:
        """Make these useless, and give how many they were."""
        return self.update(revoked_at=timezone.now())


class Invitation(models.Model):
    """A slip that lets one adult come in as being at home with one child, once."""

    child = models.ForeignKey("people.Child", on_delete=models.CASCADE, related_name="invitations")
    home = models.ForeignKey("people.Home", on_delete=models.CASCADE, related_name="invitations")
    code_hash = models.CharField(max_length=64, unique=True)
    made_by = models.ForeignKey(
        "people.User", on_delete=models.SET_NULL, null=True, related_name="+"
    )
    expires_at = models.DateTimeField()
    used_at = models.DateTimeField(null=True, blank=True)
    revoked_at = models.DateTimeField(null=True, blank=True)

    objects = InvitationQuerySet.as_manager()

    class Meta:
        verbose_name = _("invitation")

    def __str__(self) -> str:
        return f"invitation {self.pk}"

    @classmethod
    def issue(cls, child: Child, home: Home, made_by: User) -> str:
        """Make an invitation and give its code, shown this once: four groups of four letters."""
        letters = [secrets.choice(SLIP_LETTERS) for _position in range(16)]
        code = "".join(letters)
        cls.objects.create(
            child=child,
            home=home,
            made_by=made_by,
            code_hash=fingerprint(code),
            expires_at=timezone.now() + INVITATION_LIFE,
        )
        return "-".join(code[start : start + 4] for start in range(0, 16, 4))

    @classmethod
    def find(cls, code: str) -> "Invitation | None":
        """Give the open invitation that *code* belongs to, however it was typed."""
        letters = "".join(letter for letter in code.upper() if letter.isalnum())
        return cls.objects.open().filter(code_hash=fingerprint(letters)).first()
