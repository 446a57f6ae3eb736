"""Which child of the file is which child already known; a doubt is asked, never guessed away."""

from collections import Counter, defaultdict
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

from portal.people.accounts.models.fingerprints import fingerprint
from portal.people.roster_import.grouping import FileChild
from portal.people.roster_import.known import Known, KnownChild

NEW = "new"


@dataclass
class Matching:
    """The result: for each child of the file one known, none (a new child), or a question."""

    found: dict[FileChild, KnownChild] = field(default_factory=dict)
    new: list[FileChild] = field(default_factory=list)
    questions: dict[FileChild, list[KnownChild]] = field(default_factory=dict)
    unseen: list[KnownChild] = field(default_factory=list)


def match_children(
    children: Sequence[FileChild],
    known: Known,
    *,
    whole_school: bool,
    answers: Mapping[str, str],
) -> Matching:
    """Match the children of a file with those known.

    In turn: the school's own number; what the office *answers* (first row of the child: key of
    the known one, or "new"); name with a home or an adult in common; name and class, where
    nothing speaks against it; and, in a file of the whole school, a name that one child of the
    file and one known child are left with. What stays open is a question.
    """
    return Matcher(children, known, whole_school, answers).match()


class Matcher:
    """Goes from sure signs to weak ones, and takes each child once."""

    def __init__(
        self,
        children: Sequence[FileChild],
        known: Known,
        whole_school: bool,
        answers: Mapping[str, str],
    ) -> None:
        self.known, self.whole_school, self.answers = known, whole_school, answers
        self.open = list(children)
        self.free = {each.pk: each for each in known.children}
        self.called: dict[tuple[str, str], list[KnownChild]] = defaultdict(list)
        for each in known.children:
            self.called[each.name].append(each)
        self.result = Matching()

    def match(self) -> Matching:
        """Run all steps."""
        by_number = {each.number_key: each for each in self.known.children if each.number_key}
        for child in list(self.open):
            if same := by_number.get(self.known.number_key(child.number)):
                self.take(child, same)
        self.follow_answers()
        self.match_where(self.have_home_or_adult_in_common)
        self.match_where(self.are_of_one_class)
        if self.whole_school:
            self.match_where(self.are_the_only_ones_left)
        for child in self.open:
            if candidates := [each for each in self.namesakes(child) if each.class_pk]:
                self.result.questions[child] = candidates
            else:
                self.result.new.append(child)
        asked = {each.pk for group in self.result.questions.values() for each in group}
        here = (each for each in self.free.values() if each.class_pk)
        self.result.unseen = [each for each in here if each.pk not in asked]
        return self.result

    def take(self, child: FileChild, same: KnownChild) -> None:
        """Settle that *child* is *same*."""
        self.result.found[child] = same
        self.open.remove(child)
        self.free.pop(same.pk, None)

    def namesakes(self, child: FileChild) -> list[KnownChild]:
        """Return the known children of that name who are not taken."""
        return [each for each in self.called[child.name] if each.pk in self.free]

    def follow_answers(self) -> None:
        """Settle what the office has answered; an answer that fits nobody is asked again."""
        for child in list(self.open):
            answer = self.answers.get(str(child.rows[0]), "")
            if answer == NEW:
                self.result.new.append(child)
                self.open.remove(child)
            else:
                same = [each for each in self.namesakes(child) if str(each.pk) == answer]
                for each in same:
                    self.take(child, each)

    def match_where(self, fits: Callable[[FileChild, KnownChild], bool]) -> None:
        """Settle pairs that fit each other and nobody else."""
        pairs = [
            (child, each)
            for child in self.open
            for each in self.namesakes(child)
            if fits(child, each)
        ]
        children = Counter(child.rows for child, _each in pairs)
        known = Counter(each.pk for _child, each in pairs)
        for child, each in pairs:
            if children[child.rows] == 1 and known[each.pk] == 1:
                self.take(child, each)

    def have_home_or_adult_in_common(self, child: FileChild, known: KnownChild) -> bool:
        """Whether both live at one address, or an adult of one is an adult of the other."""
        if self.numbers_differ(child, known):
            return False
        addresses = {self.known.address_key(sign) for sign in child.homes} - {""}
        homes = {self.known.homes[pk].address_key for pk in known.homes if pk in self.known.homes}
        marks = {fingerprint(adult.email) for adult in child.adults}
        return bool(addresses & homes or marks & set(known.adults))

    def are_of_one_class(self, child: FileChild, known: KnownChild) -> bool:
        """Whether both are in a class of that name, and one of them without home and adults."""
        same = child.class_name.casefold() == known.class_name.casefold()
        silent = not child.homes or not self.says_something(known)
        return bool(same and silent and not self.numbers_differ(child, known))

    def says_something(self, known: KnownChild) -> bool:
        """Whether an address or an adult of *known* is known."""
        homes = (self.known.homes[pk].address_key for pk in known.homes if pk in self.known.homes)
        return bool(known.adults) or any(homes)

    def are_the_only_ones_left(self, child: FileChild, known: KnownChild) -> bool:
        """Whether *known* is in a class and no number speaks against it."""
        return known.class_pk is not None and not self.numbers_differ(child, known)

    def numbers_differ(self, child: FileChild, known: KnownChild) -> bool:
        """Whether both have a number of the school's, and not the same."""
        number = self.known.number_key(child.number)
        return bool(number and known.number_key and number != known.number_key)
