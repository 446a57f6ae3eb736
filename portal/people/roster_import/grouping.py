"""From rows to children: the same child twice, siblings, two adults in one home or in two."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import combinations

from django.utils.translation import gettext as _

from portal.people.roster_import.lines import Adult, Line, Problem

# Homes go by their address; where the file has none, each adult has a home of their own, so that
# two who live apart never see each other's.
ADDRESS, EMAIL = "address", "email"
HomeSign = tuple[str, str]


@dataclass(frozen=True)
class FileChild:
    """One child of the file, from all rows that are about them."""

    rows: tuple[int, ...]
    first: str
    initial: str
    class_name: str
    number: str
    address: str
    adults: tuple[Adult, ...]
    nameless: int = 0

    def home_of(self, adult: Adult) -> HomeSign:
        """Return the sign of the home in which *adult* lives with this child."""
        address = adult.address or self.address
        return (ADDRESS, address) if address else (EMAIL, adult.email)

    @property
    def homes(self) -> tuple[HomeSign, ...]:
        """Return the signs of the child's homes, the one of the child's own address first."""
        own = [(ADDRESS, self.address)] if self.address else []
        return tuple(dict.fromkeys([*own, *(self.home_of(adult) for adult in self.adults)]))

    @property
    def name(self) -> tuple[str, str]:
        """Return first name and initial as they are compared."""
        return self.first.casefold(), self.initial


def group_lines(lines: Sequence[Line]) -> tuple[list[FileChild], list[Problem]]:
    """Return the children that *lines* are about, and the rows of which that cannot be told."""
    children, problems = [], []
    for alike in alikes(lines):
        groups, wrong = tell_apart(alike)
        problems += wrong
        for group in groups:
            found = contradictions(group)
            problems += found
            if not found:
                children.append(child_of(group))
    problems += listed_in_two_classes(lines)
    return sorted(children, key=lambda child: child.rows), problems


def alikes(lines: Sequence[Line]) -> Iterable[list[Line]]:
    """Yield lines that may be about one child: of the same number, or name and class."""
    groups: dict[tuple[str, ...], list[Line]] = defaultdict(list)
    for line in lines:
        name = (line.first.casefold(), line.family.casefold(), line.class_name.casefold())
        groups[("number", line.number) if line.number else ("name", *name)].append(line)
    return groups.values()


def tell_apart(alike: list[Line]) -> tuple[list[list[Line]], list[Problem]]:
    """Cut lines that are alike into children: by number, else date of birth, else home."""
    if len(alike) == 1 or alike[0].number:
        return [alike], []
    if all(line.born for line in alike):
        groups: dict[object, list[Line]] = defaultdict(list)
        for line in alike:
            groups[line.born].append(line)
        return list(groups.values()), []
    if all(belong_together(one, other) for one, other in combinations(alike, 2)):
        return [alike], []
    rows = _(" and ").join(str(line.row) for line in alike)
    words = _(
        "rows %(rows)s have the same name and class. Are they one child? Choose a column with the "
        "date of birth or the school's own number, or take one row out."
    )
    return [], [Problem(line.row, words % {"rows": rows}) for line in alike]


def belong_together(one: Line, other: Line) -> bool:
    """Whether two rows of the same name and class share a home, an adult, or all they say."""
    same_home = bool(addresses_of(one) & addresses_of(other))
    emails = {adult.email for adult in one.adults} & {adult.email for adult in other.adults}
    says_nothing = not (one.address or one.adults or other.address or other.adults)
    return same_home or bool(emails) or says_nothing


def addresses_of(line: Line) -> set[str]:
    """Return the addresses in a row, the child's and the adults'."""
    return {line.address, *(adult.address for adult in line.adults)} - {""}


def contradictions(group: list[Line]) -> list[Problem]:
    """Return what rows about one child say differently and only one of which can be true."""
    names = {(line.first.casefold(), line.initial) for line in group}
    classes = {line.class_name.casefold() for line in group}
    if len(names) > 1:
        words = _("the number in this row is also that of a child with another name.")
    elif len(classes) > 1:
        words = _("this child is in two classes. Take the row with the wrong one out.")
    else:
        return []
    return [Problem(line.row, words) for line in group]


def listed_in_two_classes(lines: Sequence[Line]) -> list[Problem]:
    """Return the rows of children of one name and date of birth who are in two classes."""
    groups: dict[tuple[object, ...], list[Line]] = defaultdict(list)
    for line in lines:
        if line.born and not line.number:
            groups[line.first.casefold(), line.family.casefold(), line.born].append(line)
    words = _("this child is in two classes. Take the row with the wrong one out.")
    return [
        Problem(line.row, words)
        for group in groups.values()
        if len({line.class_name.casefold() for line in group}) > 1
        for line in group
    ]


def child_of(group: list[Line]) -> FileChild:
    """Put the rows about one child together. A row's address is that of its own adults."""
    first = group[0]
    address = next((line.address for line in group if line.address), "")
    adults: dict[str, Adult] = {}
    for line in group:
        for adult in line.adults:
            home = adult.address or (line.address if line.address != address else "")
            adults.setdefault(adult.email, Adult(adult.email, home))
    return FileChild(
        rows=tuple(line.row for line in group),
        first=first.first,
        initial=first.initial,
        class_name=first.class_name,
        number=first.number,
        address=address,
        adults=tuple(adults.values()),
        nameless=sum(line.nameless for line in group),
    )
