"""Links by which staff set a password: sent by a lead, or asked for by whoever forgot theirs."""

import datetime as dt

from django.conf import settings
from django.contrib.auth.tokens import PasswordResetTokenGenerator, default_token_generator
from django.urls import reverse
from django.utils.encoding import force_bytes
from django.utils.http import (
    base36_to_int,
    urlencode,
    urlsafe_base64_decode,
    urlsafe_base64_encode,
)

from portal.people.models import User

ASKED_FOR_LASTS = dt.timedelta(hours=1)


class ShortLived(PasswordResetTokenGenerator):
    """Makes tokens as the framework does, good for an hour: anybody can have one mailed."""

    key_salt = "portal.people.accounts.password_reset.ShortLived"

    def check_token(self, user: User | None, token: str | None) -> bool:
        """Whether *token* was made for *user* within the hour, and nothing has changed since."""
        if not super().check_token(user, token):
            return False
        made = base36_to_int(str(token).partition("-")[0])
        age = self._num_seconds(self._now()) - made
        return age <= ASKED_FOR_LASTS.total_seconds()


short_lived = ShortLived()


def password_link(user: User, *, asked_for: bool = False) -> str:
    """Return the link by which *user* sets a password, once; any password set makes it useless.

    asked_for: by somebody who says to be *user*, and not by a lead: it lasts an hour, not a week.
    """
    tokens = short_lived if asked_for else default_token_generator
    key = f"{urlsafe_base64_encode(force_bytes(user.pk))}.{tokens.make_token(user)}"
    return f"{settings.SITE_URL}{reverse('people:set-password')}?{urlencode({'key': key})}"


def user_of_link(key: str) -> User | None:
    """Return the account whose password the link with *key* may set; None: used, old or wrong."""
    who, _dot, token = key.partition(".")
    try:
        pk = int(urlsafe_base64_decode(who))
    except ValueError:
        return None
    user = User.objects.filter(pk=pk, is_active=True).first()
    if user is None or not user.posts.active().exists():
        return None
    made = (default_token_generator, short_lived)
    return user if any(tokens.check_token(user, token) for tokens in made) else None
