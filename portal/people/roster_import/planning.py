"""What running a file would do: every row's fate, before anything is done."""

import hashlib
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from enum import StrEnum

from portal.people.accounts.models.fingerprints import fingerprint
from portal.people.roster_import.closures import FileClosure
from portal.people.roster_import.grouping import ADDRESS, Adult, FileChild, HomeSign, group_lines
from portal.people.roster_import.homes import Target, settle_homes
from portal.people.roster_import.known import HERE, Known, KnownChild
from portal.people.roster_import.lines import Line, Problem
from portal.people.roster_import.matching import Matching, match_children

CLOSURE = "closure"
INVITED, JOINS, MOVES_HOME, STAYS = "invited", "joins", "moves home", "stays"
# Of the children in classes, at most so many may leave without being asked about again.
FEW_LEAVERS, SHARE_OF_LEAVERS = 5, 4


class Kind(StrEnum):
    """What becomes of a child."""

    NEW = "new"
    SAME = "same"
    MOVES = "moves"
    RETURNS = "returns"
    LEAVES = "leaves"
    LEFT_OUT = "left out"
    QUESTION = "question"
    PROBLEM = "problem"


@dataclass(frozen=True)
class AdultPlan:
    """What becomes of one adult of one child: one of INVITED, JOINS …, or how they stand."""

    adult: Adult
    home: HomeSign
    what: str
    pk: int | None = None  # of the account that joins, or of the guardianship that moves home


@dataclass(frozen=True)
class ChildPlan:
    """What becomes of one child of the file."""

    kind: Kind
    child: FileChild
    known: KnownChild | None = None
    adults: tuple[AdultPlan, ...] = ()
    candidates: tuple[KnownChild, ...] = ()

    @property
    def is_renamed(self) -> bool:
        """Whether the child's name is spelled otherwise than before."""
        before = self.known and (self.known.first, self.known.initial)
        return bool(before) and before != (self.child.first, self.child.initial)


@dataclass(frozen=True)
class Choices:
    """What the office chose for this run."""

    whole_school: bool = False
    left_out: Collection[str] = ()  # classes, in small letters
    answers: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class Plan:
    """All that a run would do. Nothing is done while it is blocked."""

    children: tuple[ChildPlan, ...]
    leavers: tuple[KnownChild, ...]
    problems: tuple[Problem, ...]
    new_classes: tuple[str, ...]
    homes: Mapping[HomeSign, Target]
    many_leave: bool
    closures: tuple[FileClosure, ...] = ()

    @property
    def is_blocked(self) -> bool:
        """Whether something must be mended or answered first."""
        return bool(self.problems) or any(each.kind == Kind.QUESTION for each in self.children)

    @property
    def figures(self) -> dict[str, int]:
        """Return how many children have each fate, how many adults are invited and days closed."""
        kinds = [each.kind for each in self.children]
        counts = {str(kind): kinds.count(kind) for kind in Kind if kind in kinds}
        if self.leavers:
            counts[str(Kind.LEAVES)] = len(self.leavers)
        if self.problems:
            counts[str(Kind.PROBLEM)] = len({each.row for each in self.problems})
        invited = sum(adult.what == INVITED for each in self.children for adult in each.adults)
        closed = sum(not each.is_known for each in self.closures)
        more = {INVITED: invited, CLOSURE: closed}
        return counts | {what: count for what, count in more.items() if count}

    @property
    def digest(self) -> str:
        """Return a mark of the plan: the one that is run must be the one that was shown."""
        contents = (
            *(self.children, self.leavers, self.problems, self.new_classes, self.homes),
            self.closures,
        )
        return hashlib.sha256(repr(contents).encode()).hexdigest()


def make_plan(
    lines: Sequence[Line],
    problems: Sequence[Problem],
    known: Known,
    choices: Choices,
    closures: Sequence[FileClosure] = (),
) -> Plan:
    """Plan what running a file of *lines* and *closures* would do to who is *known*."""
    everybody, more = group_lines(lines)
    out = [each for each in everybody if each.class_name.casefold() in choices.left_out]
    rows_out = {row for each in out for row in each.rows}
    children = [each for each in everybody if each not in out]
    matching = match_children(
        children, known, whole_school=choices.whole_school, answers=choices.answers
    )
    matched = [*matching.found.items(), *((child, None) for child in matching.new)]
    homes = settle_homes(matched, known)
    leavers = tuple(matching.unseen) if choices.whole_school else ()
    in_classes = sum(each.class_pk is not None for each in known.children)
    return Plan(
        children=tuple(sorted(plans(matching, out, homes, known), key=lambda p: p.child.rows)),
        leavers=leavers,
        problems=tuple(p for p in [*problems, *more] if p.row not in rows_out),
        new_classes=new_classes(children, known),
        homes=homes,
        many_leave=len(leavers) > max(FEW_LEAVERS, in_classes // SHARE_OF_LEAVERS),
        closures=tuple(closures),
    )


def plans(
    matching: Matching, out: Iterable[FileChild], homes: Mapping[HomeSign, Target], known: Known
) -> Iterable[ChildPlan]:
    """Yield what becomes of each child of the file."""
    for child in out:
        yield ChildPlan(Kind.LEFT_OUT, child)
    for child, candidates in matching.questions.items():
        yield ChildPlan(Kind.QUESTION, child, candidates=tuple(candidates))
    for child in matching.new:
        yield ChildPlan(Kind.NEW, child, None, adult_plans(child, None, homes, known))
    for child, same in matching.found.items():
        kind = fate_of(child, same, known)
        yield ChildPlan(kind, child, same, adult_plans(child, same, homes, known))


def fate_of(child: FileChild, same: KnownChild, known: Known) -> Kind:
    """Return what becomes of a child who is known."""
    if same.class_pk is None:
        return Kind.RETURNS
    in_class = known.classes.get(child.class_name.casefold())
    return Kind.SAME if in_class == same.class_pk else Kind.MOVES


def adult_plans(
    child: FileChild, same: KnownChild | None, homes: Mapping[HomeSign, Target], known: Known
) -> tuple[AdultPlan, ...]:
    """Return what becomes of each adult of *child*.

    Whose access was ended, or whose invitation was, is never invited again by a file.
    """
    found = []
    for adult in child.adults:
        sign, mark = child.home_of(adult), fingerprint(adult.email)
        stands = same.adults.get(mark) if same else None
        target = homes[sign].pk
        if stands == HERE and same:
            pk, home = same.guardianships[mark]
            moves = sign[0] == ADDRESS and home != target
            found.append(AdultPlan(adult, sign, MOVES_HOME if moves else STAYS, pk))
        elif stands:
            found.append(AdultPlan(adult, sign, stands))
        elif target and (account := known.homes[target].confirmed.get(mark)):
            found.append(AdultPlan(adult, sign, JOINS, account))
        else:
            found.append(AdultPlan(adult, sign, INVITED))
    return tuple(found)


def new_classes(children: Iterable[FileChild], known: Known) -> tuple[str, ...]:
    """Return the classes of the file that the year has not yet, spelled as they come first."""
    names = {each.class_name.casefold(): each.class_name for each in reversed(list(children))}
    return tuple(sorted(name for low, name in names.items() if low not in known.classes))
