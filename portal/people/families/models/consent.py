"""What homes have agreed to: one row an answer, added to and never changed."""

from typing import Any, NoReturn, Self

from django.db import models
from django.db.models import Exists, OuterRef, Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from portal.operations import erasure_list
from portal.people.accounts.models.users import User
from portal.people.asking import Asker
from portal.people.families.models.homes import Child, Guardianship, Home


class Purpose(models.TextChoices):
    """What a child's work may be used for."""

    # A school's public task: nobody is asked, and nobody can refuse.
    TEACHING = "teaching", _("teaching, and the record of it")
    DISPLAY = "display", _("shown in the classroom")
    FAMILIES = "families", _("shared with other families")
    OUTSIDE = "outside", _("seen by staff outside the class")

    @classmethod
    def asked(cls) -> list["Purpose"]:
        """Return the purposes that need a home's consent."""
        return [cls.DISPLAY, cls.FAMILIES, cls.OUTSIDE]


# What a restore needs to say a no again that was said after the backup was taken.
KEPT_OF_A_NO = (
    *("child_id", "home_id", "adult_id", "on_paper", "party", "purpose", "wording"),
    "recorded_by_id",
)


class CannotChangeConsentError(Exception):
    """An answer is never changed: whoever thinks otherwise now gives another."""


class ConsentQuerySet(models.QuerySet["Consent"]):
    """Answers, by who may read them and which of them count."""

    def visible_to(self, user: Asker) -> Self:
        """Answers of the own home; for staff, those about the children they teach."""
        here = Guardianship.objects.that_let_see(user)
        return self.filter(Q(child__in=Child.objects.taught_by(user)) | Exists(here))

    def active(self) -> Self:
        """The latest answer of each adult at home now, and of each home on paper."""
        same = self.model.objects.filter(
            child=OuterRef("child"), purpose=OuterRef("purpose"), party=OuterRef("party")
        )
        here = Guardianship.objects.current().filter(
            adult=OuterRef("adult"), child=OuterRef("child")
        )
        lived_in = Home.children.through.objects.filter(
            home=OuterRef("home"), child=OuterRef("child")
        )
        return self.filter(
            ~Exists(same.filter(pk__gt=OuterRef("pk"))),
            Q(on_paper=False) & Exists(here) | Q(on_paper=True) & Exists(lived_in),
        )

    def update(self, **values: Any) -> NoReturn:
        """Refuse."""
        raise CannotChangeConsentError


class Consent(models.Model):
    """One answer for one child and purpose: yes or no, to which words, by whom, when.

    `party` is whose answer it is, and so which later one takes its place: an adult, or a home
    that answered on paper. `wording` is the version of the words that were read.
    """

    child = models.ForeignKey(Child, on_delete=models.CASCADE, related_name="consents")
    home = models.ForeignKey(Home, on_delete=models.SET_NULL, null=True, related_name="consents")
    adult = models.ForeignKey(
        "people.User", on_delete=models.SET_NULL, null=True, related_name="consents"
    )
    on_paper = models.BooleanField(default=False)
    party = models.CharField(max_length=30)
    purpose = models.CharField(max_length=10, choices=Purpose)
    given = models.BooleanField()
    wording = models.PositiveSmallIntegerField()
    at = models.DateTimeField(default=timezone.now)
    recorded_by = models.ForeignKey(
        "people.User", on_delete=models.SET_NULL, null=True, related_name="+"
    )

    objects = ConsentQuerySet.as_manager()

    class Meta:
        ordering = ["-pk"]
        constraints = [
            models.CheckConstraint(
                condition=~Q(purpose=Purpose.TEACHING), name="teaching_is_not_asked"
            ),
        ]
        indexes = [
            models.Index(fields=["child", "purpose", "party", "-id"], name="consent_of_party"),
        ]

    def __str__(self) -> str:
        return f"consent {self.pk}"

    def save(self, *args: Any, **kwargs: Any) -> None:
        """Add this answer. Raises CannotChangeConsentError for one that is there already."""
        if self.pk is not None:
            raise CannotChangeConsentError
        super().save(*args, **kwargs)
        if not self.given:
            kept = {name: getattr(self, name) for name in KEPT_OF_A_NO}
            erasure_list.note_on_commit("people.consent", self.pk, erasure_list.REFUSED, **kept)

    @classmethod
    def answer(
        cls, guardianship: Guardianship, purpose: Purpose, *, given: bool, wording: int
    ) -> Self:
        """Write down what the adult of *guardianship* says about that child."""
        return cls.objects.create(
            child=guardianship.child,
            home=guardianship.home,
            adult=guardianship.adult,
            party=f"adult {guardianship.adult_id}",
            purpose=purpose,
            given=given,
            wording=wording,
            recorded_by=guardianship.adult,
        )

    @classmethod
    def answer_on_paper(
        cls, child: Child, home: Home, purpose: Purpose, *, given: bool, wording: int, by: User
    ) -> Self:
        """Write down what *home* said about *child* on paper, as *by*, of the staff, read it."""
        return cls.objects.create(
            child=child,
            home=home,
            on_paper=True,
            party=f"home {home.pk}",
            purpose=purpose,
            given=given,
            wording=wording,
            recorded_by=by,
        )


def consented(purpose: Purpose) -> models.QuerySet[Child]:
    """Give the children for whom *purpose* counts as agreed: somebody said yes, and nobody no."""
    said = Consent.objects.active().filter(child=OuterRef("pk"), purpose=purpose)
    return Child.objects.filter(Exists(said.filter(given=True)), ~Exists(said.filter(given=False)))
