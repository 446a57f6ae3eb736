"""Accounts: an e-mail address is the user name, for staff and adults at home alike."""

from functools import cached_property
from typing import TYPE_CHECKING, Any

from django.contrib.auth.base_user import AbstractBaseUser, BaseUserManager
from django.db import models
from django.db.models.functions import Lower
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

if TYPE_CHECKING:
    from portal.people.models.schools import StaffPost


class UserManager(BaseUserManager["User"]):
    """Makes accounts; addresses are compared without regard to case."""

    def create_user(
        self, email: str, name: str, password: str | None = None, **more: Any
    ) -> "User":
        """Make an account; without *password* it can come in by one-time code only."""
        user = self.model(email=email.strip().lower(), name=name, **more)
        user.set_password(password)
        user.save(using=self._db)
        return user

    def get_by_natural_key(self, username: str | None) -> "User":
        return self.get(email=(username or "").strip().lower())


class User(AbstractBaseUser):
    """A person who signs in. Children have no accounts."""

    email = models.EmailField(_("e-mail address"), unique=True)
    name = models.CharField(_("name"), max_length=80)
    language = models.CharField(_("language"), max_length=10, default="en-gb")
    is_active = models.BooleanField(default=True)
    # Codes go to confirmed addresses only: a slip of the pen must not let a stranger in.
    email_confirmed_at = models.DateTimeField(null=True, blank=True)
    created_at = models.DateTimeField(auto_now_add=True)
    # Told by the mail server; until the person comes in by a code that was mailed there.
    mail_came_back_at = models.DateTimeField(null=True, blank=True, editable=False)
    # Since when the first steps are shown, and count what was done; empty once they are put away.
    first_steps_since = models.DateTimeField(null=True, default=timezone.now, editable=False)

    objects = UserManager()
    USERNAME_FIELD = "email"
    REQUIRED_FIELDS = ["name"]

    class Meta:
        constraints = [
            models.CheckConstraint(condition=models.Q(email=Lower("email")), name="email_lower"),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def is_family(self) -> bool:
        """Whether this person is an adult at home of at least one child."""
        return self.guardianships.current().exists()

    @property
    def is_reached_by_mail(self) -> bool:
        """Whether the address is theirs, and no mail has come back from it."""
        return self.email_confirmed_at is not None and self.mail_came_back_at is None

    @cached_property
    def posts_held(self) -> list["StaffPost"]:
        """The posts held now, each with its school; asked once in the life of a request."""
        return list(self.posts.current().select_related("school").order_by("pk"))

    @property
    def has_post(self) -> bool:
        """Whether this person works at a school."""
        return bool(self.posts_held)

    @classmethod
    def normalise(cls, email: str) -> str:
        """Give *email* as it is stored."""
        return email.strip().lower()

    def clean(self) -> None:
        super().clean()
        self.email = self.normalise(self.email)
