"""Invitations: a slip of paper, or a mail, by which one adult comes to one child's page."""

import datetime as dt
from typing import Self

from django.db import models
from django.db.models import Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from portal.jobs.outbox import UNSENT, Outgoing, OutgoingQuerySet
from portal.people.accounts.models.fingerprints import bare, draw_letters, fingerprint, in_fours
from portal.people.accounts.models.users import User
from portal.people.asking import Asker
from portal.people.families.models.homes import Child, Home
from portal.people.school.models import School
from portal.translation.languages import ENGLISH

# A school may say otherwise, by a rule of this kind, up to the longest.
OPEN_RULE = "invitations open"
INVITATION_LIFE = dt.timedelta(days=14)
LONGEST_LIFE = dt.timedelta(days=60)
# After a refusal by the mail server; as often as that fits in.
PAUSE = dt.timedelta(minutes=10)
# An address that nobody came in by is forgotten so long after its invitation ran out.
ADDRESS_KEPT = dt.timedelta(days=30)


def life_at(school: School) -> dt.timedelta:
    """Return how long an invitation of *school* works: as the school says, else as is usual."""
    rule = school.keeping_rules.filter(kind=OPEN_RULE)
    days = rule.values_list("days", flat=True).first()
    return dt.timedelta(days=days) if days else INVITATION_LIFE


class InvitationQuerySet(OutgoingQuerySet["Invitation"]):
    """Invitations, by whether they still open the door."""

    pauses = (PAUSE,) * (LONGEST_LIFE // PAUSE)

    def kept_by(self, user: Asker) -> Self:
        """Invitations to children on a roster that *user* keeps."""
        return self.filter(child__in=Child.objects.kept_by(user))

    def active(self) -> Self:
        """Those neither used nor revoked, in date or not."""
        return self.filter(used_at=None, revoked_at=None)

    def open(self) -> Self:
        """Those neither used, revoked nor out of date."""
        return self.active().filter(expires_at__gt=timezone.now())

    def run_out(self) -> Self:
        """Those that nobody used in time."""
        return self.active().filter(expires_at__lte=timezone.now())

    def unsent(self) -> Self:
        """Open ones whose mail is still to be sent."""
        return super().unsent().open().exclude(email="")

    def revoke(self) -> int:
        """Make these useless, and give how many they were."""
        return self.update(revoked_at=timezone.now(), email="")


class Invitation(Outgoing):
    """Lets one adult come in as being at home with one child, in one home, once.

    With an `email` it is sent by mail, and its code is drawn when that happens; without, it was
    shown once, to be printed. `email_key` outlives the address: whoever was invited is known again.
    """

    child = models.ForeignKey("people.Child", on_delete=models.CASCADE, related_name="invitations")
    home = models.ForeignKey("people.Home", on_delete=models.CASCADE, related_name="invitations")
    code_hash = models.CharField(max_length=64, unique=True, null=True)
    email = models.EmailField(blank=True)
    email_key = models.CharField(max_length=64, blank=True)
    language = models.CharField(max_length=10, default=ENGLISH)
    made_by = models.ForeignKey(
        "people.User", on_delete=models.SET_NULL, null=True, related_name="+"
    )
    made_at = models.DateTimeField(default=timezone.now)
    expires_at = models.DateTimeField()
    used_at = models.DateTimeField(null=True, blank=True)
    revoked_at = models.DateTimeField(null=True, blank=True)
    mail_came_back_at = models.DateTimeField(null=True, blank=True, editable=False)

    objects = InvitationQuerySet.as_manager()

    class Meta:
        verbose_name = _("invitation")
        constraints = [
            models.UniqueConstraint(
                fields=["child", "email_key"],
                condition=Q(used_at=None, revoked_at=None) & ~Q(email_key=""),
                name="one_standing_invitation_an_address",
            ),
            models.CheckConstraint(
                condition=~Q(email_key="") | Q(code_hash__isnull=False, email=""),
                name="invitation_on_paper_or_by_mail",
            ),
        ]

    def __str__(self) -> str:
        return f"invitation {self.pk}"

    @property
    def is_on_paper(self) -> bool:
        """Whether this one was printed, and not mailed."""
        return not self.email_key

    @classmethod
    def issue(cls, child: Child, home: Home, made_by: User, language: str = ENGLISH) -> str:
        """Make an invitation and give its code, shown this once: four groups of four letters.

        *language*: of the slip, by its code.
        """
        letters = draw_letters(16)
        home.children.add(child)
        cls.objects.create(
            child=child,
            home=home,
            made_by=made_by,
            code_hash=fingerprint(letters),
            language=language,
            expires_at=timezone.now() + life_at(child.school),
        )
        return in_fours(letters)

    @classmethod
    def ask_by_mail(
        cls,
        child: Child,
        home: Home,
        email: str,
        made_by: User | None,
        *,
        rides: bool = False,
        language: str = ENGLISH,
    ) -> "Invitation":
        """Make, or make anew, the invitation of *email* to *child*; its mail is still to go.

        *language*: what the mail is written in, by its code. One that *rides* gets no mail: it
        is taken with that to a sister or brother.
        """
        email = User.normalise(email)
        home.children.add(child)
        invitation, _made = cls.objects.active().update_or_create(
            child=child,
            email_key=fingerprint(email),
            defaults={
                "home": home,
                "email": email,
                "code_hash": None,
                "language": language,
                "made_by": made_by,
                "made_at": timezone.now(),
                "expires_at": timezone.now() + life_at(child.school),
                "mail_came_back_at": None,
                **UNSENT,
                **({"mailed_at": timezone.now()} if rides else {}),
            },
        )
        return invitation

    def taken_along(self) -> InvitationQuerySet:
        """Return the open invitations of the same adult to others of the home; none on paper."""
        same = Invitation.objects.open().filter(home=self.home_id, email_key=self.email_key)
        return same.none() if self.is_on_paper else same.exclude(pk=self.pk)

    def draw(self) -> str:
        """Give a fresh code for the mail that is being sent; any earlier one is useless."""
        letters = draw_letters(16)
        Invitation.objects.held(self).update(code_hash=fingerprint(letters))
        return in_fours(letters)

    @classmethod
    def find(cls, code: str) -> "Invitation | None":
        """Return the open invitation that *code* belongs to, however it was typed."""
        return cls.objects.open().filter(code_hash=fingerprint(bare(code))).first()
