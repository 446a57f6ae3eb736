"""What an adult at home is shown of their own children's data, gathered in a few queries."""

from collections import defaultdict
from dataclasses import dataclass, field

from portal.data_protection.consent.wording import CURRENT
from portal.data_protection.hooks import Words
from portal.data_protection.models import DataExport
from portal.people.models import Child, Consent, Guardianship, Purpose, User


@dataclass(frozen=True)
class Asked:
    """One thing that is asked about a child, and what this adult last said; None: nothing yet."""

    purpose: Purpose
    words: Words
    answer: Consent | None


@dataclass(frozen=True)
class OwnChild:
    """A child of the reader: what is asked, what the home answered, and the latest copy."""

    tie: Guardianship
    asked: list[Asked]
    history: list[Consent] = field(default_factory=list)
    copy: DataExport | None = None

    @property
    def child(self) -> Child:
        """Return the child."""
        return self.tie.child

    @property
    def ask_id(self) -> str:
        """Return the name of the question before all is asked to be deleted."""
        return f"delete-{self.child.pk}"


def own_children(user: User) -> list[OwnChild]:
    """Return the children *user* is at home with, each with what can be decided about it."""
    ties = list(
        Guardianship.objects.current()
        .filter(adult=user)
        .select_related("child__school", "home", "adult")
        .order_by("child__first_name", "pk")
    )
    answers: dict[int, list[Consent]] = defaultdict(list)
    seen = Consent.objects.filter(child__in=[tie.child_id for tie in ties])
    homes = {(tie.child_id, tie.home_id) for tie in ties}
    for each in seen.select_related("adult"):
        if (each.child_id, each.home_id) in homes:
            answers[each.child_id].append(each)
    copies = {copy.child_id: copy for copy in reversed(copies_of(user))}
    return [
        OwnChild(
            tie, asked_of(user, answers[tie.child_id]), answers[tie.child_id],
            copies.get(tie.child_id),
        )
        for tie in ties
    ]  # fmt: skip


def copies_of(user: User) -> list[DataExport]:
    """Return the copies that *user* asked for as an adult at home, newest first."""
    seen = DataExport.objects.visible_to(user).in_date()
    return list(seen.filter(asked_by=user, home__isnull=False))


def asked_of(user: User, answers: list[Consent]) -> list[Asked]:
    """Return what is asked, with the latest of *answers* (newest first) that *user* gave."""
    own: dict[str, Consent] = {}
    for answer in answers:
        if answer.adult_id == user.pk:
            own.setdefault(answer.purpose, answer)
    return [Asked(purpose, CURRENT.words[purpose], own.get(purpose)) for purpose in Purpose.asked()]
