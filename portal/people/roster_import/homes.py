"""Which home of the file is which home already known."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from portal.people.accounts.models.fingerprints import fingerprint
from portal.people.roster_import.grouping import EMAIL, FileChild, HomeSign
from portal.people.roster_import.known import Known, KnownChild, KnownHome

Matched = tuple[FileChild, KnownChild | None]


@dataclass(frozen=True)
class Target:
    """The home that a sign of the file stands for: one known, or (without *pk*) a new one."""

    address_key: str
    pk: int | None = None
    key_before: str = ""

    @property
    def is_new_address(self) -> bool:
        """Whether a known home gets another address."""
        return self.pk is not None and self.address_key not in ("", self.key_before)


@dataclass
class Sign:
    """One home of the file: who lives there."""

    children: list[Matched] = field(default_factory=list)
    adults: set[str] = field(default_factory=set)


def settle_homes(matched: Iterable[Matched], known: Known) -> Mapping[HomeSign, Target]:
    """Return the home that each sign of the file stands for."""
    return HomeSettler(matched, known).settle()


class HomeSettler:
    """Goes from sure signs to weak ones: address, adult in common, the only home there is."""

    def __init__(self, matched: Iterable[Matched], known: Known) -> None:
        self.known = known
        self.signs: dict[HomeSign, Sign] = defaultdict(Sign)
        for child, same in matched:
            for sign in child.homes:
                self.signs[sign].children.append((child, same))
            for adult in child.adults:
                self.signs[child.home_of(adult)].adults.add(fingerprint(adult.email))
        self.keys = {sign: known.address_key(sign) for sign in self.signs}
        self.taken: set[int] = set()

    def settle(self) -> Mapping[HomeSign, Target]:
        """Settle all signs, those of known addresses first."""
        by_key = {home.address_key: home for home in self.known.homes.values() if home.address_key}
        settled: dict[HomeSign, Target] = {}
        for sign, key in self.keys.items():
            if key in by_key:
                settled[sign] = self.target(sign, by_key[key])
        for sign in self.signs:
            if sign not in settled:
                home = self.with_adult_in_common(sign) or self.only_home(sign)
                settled[sign] = self.target(sign, home) if home else Target(self.keys[sign])
        return settled

    def target(self, sign: HomeSign, home: KnownHome) -> Target:
        """Take *home* for *sign*."""
        self.taken.add(home.pk)
        return Target(self.keys[sign], home.pk, home.address_key)

    def may_be(self, sign: HomeSign, home: KnownHome) -> bool:
        """Whether *sign* may stand for *home*: a home of another address in the file is not it."""
        if sign[0] == EMAIL:
            return True
        return home.pk not in self.taken and home.address_key not in set(self.keys.values()) - {""}

    def homes_of_children(self, sign: HomeSign) -> list[KnownHome]:
        """Return the known homes of the children under *sign*."""
        pks = {pk for _child, same in self.signs[sign].children if same for pk in same.homes}
        return [self.known.homes[pk] for pk in sorted(pks) if pk in self.known.homes]

    def with_adult_in_common(self, sign: HomeSign) -> KnownHome | None:
        """Return a home in which an adult under *sign* lives, best with the same child."""
        elsewhere = self.known.homes.values() if sign[0] == EMAIL else []
        homes = [*self.homes_of_children(sign), *elsewhere]
        adults = self.signs[sign].adults
        fits = (home for home in homes if adults & home.adults and self.may_be(sign, home))
        return next(fits, None)

    def only_home(self, sign: HomeSign) -> KnownHome | None:
        """Return the one home of a child with one home in the file, if nothing of it is known."""
        for child, same in self.signs[sign].children:
            if same is None or len(child.homes) != 1 or len(same.homes) != 1:
                continue
            home = self.known.homes[next(iter(same.homes))]
            free = home.pk not in self.taken and self.may_be(sign, home)
            if free and not (home.address_key and home.adults):
                return home
        return None
