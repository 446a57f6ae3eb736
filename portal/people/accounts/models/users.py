"""Accounts: an e-mail address is the user name, for staff and adults at home alike."""

from collections.abc import Iterable, Iterator
from functools import cached_property
from typing import Any, Self

from django.contrib.auth.base_user import AbstractBaseUser, BaseUserManager
from django.db import models
from django.db.models.functions import Lower
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from portal.people.school.models import StaffPost


class UserQuerySet(models.QuerySet["User"]):
    """Accounts. Nobody is looked up by an address in any other way than by these methods."""

    def proved(self, email: str) -> Self:
        """Return the one account whose holder has shown that *email* is theirs, or none."""
        return self.filter(email=User.normalise(email), email_confirmed_at__isnull=False)

    def awaited(self, email: str) -> Self:
        """Return accounts a lead made for *email*, which a mail to it alone lets anybody into."""
        posts = StaffPost.objects.active()
        return self.claiming(email).filter(pk__in=posts.values("user"))

    def claiming(self, email: str) -> Self:
        """Return accounts for which somebody typed *email*: that does not say whose it is."""
        return self.filter(email=User.normalise(email), email_confirmed_at=None)

    def mailed_at(self, emails: Iterable[str]) -> Self:
        """Return the accounts that mail to one of *emails* goes to."""
        posts = StaffPost.objects.active()
        reached = models.Q(email_confirmed_at__isnull=False) | models.Q(pk__in=posts.values("user"))
        return self.filter(reached, email__in=[User.normalise(each) for each in emails])


class UserManager(BaseUserManager["User"].from_queryset(UserQuerySet)):  # type: ignore[misc]
    """Makes accounts; addresses are compared without regard to case."""

    def create_user(
        self, email: str, name: str, password: str | None = None, **more: Any
    ) -> "User":
        """Make an account; without *password* it can come in by code or slip only.

        *email* is what somebody typed until `email_confirmed_at` says that it was proved.
        """
        user: User = self.model(email=email.strip().lower(), name=name, **more)
        user.set_password(password)
        user.save(using=self._db)
        return user

    def get_by_natural_key(self, username: str | None) -> "User":
        user: User = self.proved(username or "").get()
        return user


class User(AbstractBaseUser):
    """A person who signs in. Children have no accounts."""

    # Empty for whoever comes in by slip alone. Not proved, it is a claim: it opens nothing,
    # is in nobody's way, and goes once somebody else proves the address.
    email = models.EmailField(_("e-mail address"), blank=True, db_index=True)
    name = models.CharField(_("name"), max_length=80)
    language = models.CharField(_("language"), max_length=10, default="en-gb")
    is_active = models.BooleanField(default=True)
    # Codes go to confirmed addresses only: a slip of the pen must not let a stranger in.
    email_confirmed_at = models.DateTimeField(null=True, blank=True)
    created_at = models.DateTimeField(auto_now_add=True)
    # Told by the mail server; until the person comes in by a code that was mailed there.
    mail_came_back_at = models.DateTimeField(null=True, blank=True, editable=False)
    # Part of what every session is checked against: one more, and all of them are over.
    sessions_round = models.PositiveIntegerField(default=0, editable=False)
    # Since when the first steps are shown, and count what was done; empty once they are put away.
    first_steps_since = models.DateTimeField(null=True, default=timezone.now, editable=False)

    objects = UserManager()
    USERNAME_FIELD = "email"
    REQUIRED_FIELDS = ["name"]

    class Meta:
        constraints = [
            models.CheckConstraint(condition=models.Q(email=Lower("email")), name="email_lower"),
            models.UniqueConstraint(
                fields=["email"],
                condition=models.Q(email_confirmed_at__isnull=False),
                name="one_account_a_proved_address",
            ),
            models.CheckConstraint(
                condition=models.Q(email_confirmed_at=None) | ~models.Q(email=""),
                name="no_proof_without_an_address",
            ),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def is_family(self) -> bool:
        """Whether this person is an adult at home of at least one child."""
        return self.guardianships.current().exists()

    @property
    def is_proved(self) -> bool:
        """Whether the address was shown to be theirs."""
        return self.email_confirmed_at is not None

    @cached_property
    def posts_held(self) -> list[StaffPost]:
        """The posts held now, each with its school; asked once in the life of a request."""
        return list(self.posts.current().select_related("school").order_by("pk"))

    @property
    def has_post(self) -> bool:
        """Whether this person works at a school."""
        return bool(self.posts_held)

    def end_sessions(self) -> None:
        """Sign this person out everywhere, from the very next request on."""
        type(self).objects.filter(pk=self.pk).update(sessions_round=models.F("sessions_round") + 1)
        self.refresh_from_db(fields=["sessions_round"])
        self.devices.end()

    def get_session_auth_hash(self) -> str:
        """Return what a session must have been begun with to be one of this person."""
        return self.of_this_round(super().get_session_auth_hash())

    def get_session_auth_fallback_hash(self) -> Iterator[str]:
        """Yield the same, by the secret keys of before."""
        yield from map(self.of_this_round, super().get_session_auth_fallback_hash())

    def of_this_round(self, mark: str) -> str:
        """Tie *mark* to the sessions begun since all were last ended."""
        return f"{mark}.{self.sessions_round}" if self.sessions_round else mark

    @classmethod
    def normalise(cls, email: str) -> str:
        """Return *email* as it is stored."""
        return email.strip().lower()

    def clean(self) -> None:
        super().clean()
        self.email = self.normalise(self.email)
