"""Who the portal knows already, as the rows of a file are held against it."""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, field

from django.utils import timezone

from portal.people.accounts.models.fingerprints import fingerprint
from portal.people.models import Child, Guardianship, Home, Invitation, School, SchoolClass, User
from portal.people.roster_import.closures import KnownClosures
from portal.people.roster_import.grouping import ADDRESS, HomeSign

# How an adult, known by an address, stands to a child.
HERE, ENDED = "here", "ended"
OPEN, RUN_OUT, REVOKED = "open", "run out", "revoked"


@dataclass(frozen=True)
class KnownChild:
    """A child of the school with what a row may know them by."""

    pk: int
    first: str
    initial: str
    class_pk: int | None
    class_name: str
    number_key: str
    homes: frozenset[int] = frozenset()
    adults: Mapping[str, str] = field(default_factory=dict)  # mark of the address: HERE, OPEN …
    guardianships: Mapping[str, tuple[int, int]] = field(default_factory=dict)  # … to (pk, home)
    at_home_with: tuple[str, ...] = ()  # names of the adults who have come in

    @property
    def name(self) -> tuple[str, str]:
        """Return first name and initial as they are compared."""
        return self.first.casefold(), self.initial


@dataclass(frozen=True)
class KnownHome:
    """A home of the school: mark of its address, and marks of the adults tied to it."""

    pk: int
    address_key: str
    adults: frozenset[str] = frozenset()
    confirmed: Mapping[str, int] = field(default_factory=dict)  # mark: account of who has come in


@dataclass(frozen=True)
class Known:
    """Everything of one school that a file is held against."""

    school_pk: int
    children: tuple[KnownChild, ...]
    homes: Mapping[int, KnownHome]
    classes: Mapping[str, int]  # of the year: name in small letters → class
    closures: KnownClosures | None = None

    def number_key(self, number: str) -> str:
        """Return the mark of the school's own *number*; none for no number."""
        return number_key(self.school_pk, number)

    def address_key(self, sign: HomeSign) -> str:
        """Return the mark of the address that *sign* is; none for a home known by its adult."""
        return fingerprint(f"{self.school_pk} address {sign[1]}") if sign[0] == ADDRESS else ""


def number_key(school_pk: int, number: str) -> str:
    """Return the mark of a school's own *number* of a child; none for no number."""
    return fingerprint(f"{school_pk} number {number.casefold()}") if number else ""


def known_of(school: School, year_pk: int | None) -> Known:
    """Look everything up, in a fixed number of queries."""
    ties = Ties.of(school)
    names = dict(SchoolClass.objects.filter(year__school=school).values_list("pk", "name"))
    of_year = SchoolClass.objects.filter(year=year_pk).values_list("name", "pk")
    children = tuple(
        KnownChild(
            pk=child.pk,
            first=child.first_name,
            initial=child.initial,
            class_pk=child.school_class_id,
            class_name=names.get(child.school_class_id, ""),
            number_key=child.office_key,
            homes=frozenset(ties.homes[child.pk]),
            adults=ties.adults[child.pk],
            guardianships=ties.guardianships[child.pk],
            at_home_with=tuple(sorted(ties.names[child.pk])),
        )
        for child in Child.objects.filter(school=school).order_by("pk")
    )
    homes = {
        pk: KnownHome(pk, key, frozenset(ties.of_home[pk]), ties.confirmed[pk])
        for pk, key in Home.objects.filter(school=school).values_list("pk", "address_key")
    }
    classes = {name.casefold(): pk for name, pk in of_year}
    return Known(school.pk, children, homes, classes, closures_of(school, year_pk))


def closures_of(school: School, year_pk: int | None) -> KnownClosures | None:
    """Return what is closed already, and the days of the year; None without a year."""
    year = school.years.filter(pk=year_pk).first()
    closed = school.closures.values_list("name", "first", "last").order_by("first")
    return KnownClosures(year.starts, year.ends, tuple(closed)) if year else None


@dataclass
class Ties:
    """Who is tied to whom, gathered row by row."""

    homes: dict[int, set[int]] = field(default_factory=lambda: defaultdict(set))
    adults: dict[int, dict[str, str]] = field(default_factory=lambda: defaultdict(dict))
    guardianships: dict[int, dict[str, tuple[int, int]]] = field(
        default_factory=lambda: defaultdict(dict)
    )
    of_home: dict[int, set[str]] = field(default_factory=lambda: defaultdict(set))
    confirmed: dict[int, dict[str, int]] = field(default_factory=lambda: defaultdict(dict))
    names: dict[int, set[str]] = field(default_factory=lambda: defaultdict(set))

    @classmethod
    def of(cls, school: School) -> "Ties":
        """Gather the ties of *school*."""
        ties = cls()
        lives = Home.children.through.objects.filter(home__school=school)
        for child, home in lives.values_list("child", "home"):
            ties.homes[child].add(home)
        # The stronger tie comes later and stands: who is here now was perhaps ended before.
        for invitation in Invitation.objects.filter(child__school=school).exclude(email_key=""):
            ties.add_invitation(invitation)
        all_of_them = Guardianship.objects.filter(child__school=school).select_related("adult")
        for guardianship in sorted(all_of_them, key=lambda each: each.ended_at is None):
            ties.add_guardianship(guardianship)
        return ties

    def add_invitation(self, invitation: Invitation) -> None:
        """Gather one invitation by mail."""
        mark, child = invitation.email_key, invitation.child_id
        if invitation.used_at:
            return
        if invitation.revoked_at:
            self.adults[child].setdefault(mark, REVOKED)
            return
        runs = invitation.expires_at > timezone.now()
        self.adults[child][mark] = OPEN if runs else RUN_OUT
        self.of_home[invitation.home_id].add(mark)

    def add_guardianship(self, guardianship: Guardianship) -> None:
        """Gather one guardianship, ended or not."""
        adult: User = guardianship.adult
        mark, child, home = fingerprint(adult.email), guardianship.child_id, guardianship.home_id
        if guardianship.ended_at:
            self.adults[child][mark] = ENDED
            return
        self.names[child].add(adult.name)
        if not adult.is_proved:
            return  # What somebody typed keeps nobody else from being invited.
        self.adults[child][mark] = HERE
        self.guardianships[child][mark] = (guardianship.pk, home)
        self.of_home[home].add(mark)
        self.confirmed[home][mark] = adult.pk
