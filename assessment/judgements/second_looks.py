"""Second looks: drawing a sample, tagging it blind, and how far the two lookers agree."""

import secrets
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from django.db import transaction
from django.utils import timezone

from assessment.goals.goal_sets import framework_of
from assessment.insight.agreement import Agreement, agreement
from assessment.models import Goal, Sample, SampledPiece, SecondTag, Tag
from assessment.spreadsheets import Table
from portal.people.models import SchoolClass, StaffPost, User

WORDS = tuple(Tag.How.values)
MOST = 50


class NothingToSampleError(Exception):
    """No looked-at work of the class is left that this person has not looked at before."""


def who_may_look(school_class: SchoolClass) -> "list[User]":
    """Give the staff who see the work of *school_class*: its own, and the leads of the school."""
    posts = StaffPost.objects.current().filter(school=school_class.school, user__is_active=True)
    own = posts.filter(classes=school_class).exclude(role=StaffPost.Role.OFFICE)
    leads = posts.filter(role=StaffPost.Role.LEAD)
    users = {post.user_id for post in (*own, *leads)}
    return list(User.objects.filter(pk__in=users).order_by("name"))


@transaction.atomic
def draw_sample(school_class: SchoolClass, second: User, count: int, by: User) -> Sample:
    """Draw *count* pieces by chance for *second* to look at, or as many as there are.

    Drawn are looked-at pieces of the class's framework that *second* neither tagged nor had in a
    sample before. The first looker's tags are kept as they are now. Raises NothingToSampleError.
    """
    framework = framework_of(school_class)
    tags = Tag.objects.filter(
        child__school_class=school_class, goal__framework=framework, submission__withdrawn_at=None
    )
    theirs = Tag.objects.filter(child__school_class=school_class, tagged_by=second)
    had = SampledPiece.objects.filter(sample__second=second)
    open_to = tags.exclude(submission__in=theirs.values("submission"))
    open_to = open_to.exclude(submission__in=had.values("submission"))
    keys = sorted(set(open_to.values_list("submission", flat=True)))
    if not keys:
        raise NothingToSampleError
    drawn = secrets.SystemRandom().sample(keys, min(count, MOST, len(keys)))
    first: dict[int, dict[str, str]] = {key: {} for key in drawn}
    for key, goal, how in tags.filter(submission__in=drawn).values_list(
        "submission", "goal", "how"
    ):
        first[key][str(goal)] = how
    sample = Sample.objects.create(
        school_class=school_class, framework=framework, second=second, made_by=by
    )
    SampledPiece.objects.bulk_create(
        SampledPiece(sample=sample, submission_id=key, position=place, first=first[key])
        for place, key in enumerate(drawn)
    )
    return sample


def next_piece(sample: Sample) -> SampledPiece | None:
    """Give the next piece of *sample* that waits; what was withdrawn meanwhile is passed over."""
    waiting = sample.pieces.filter(looked_at=None, submission__withdrawn_at=None)
    return waiting.first()


@transaction.atomic
def save_second(piece: SampledPiece, tags: Mapping[int, str]) -> bool:
    """Store the second looker's *tags*, once; False where that has been done."""
    waiting = SampledPiece.objects.filter(pk=piece.pk, looked_at=None)
    if not waiting.update(looked_at=timezone.now()):
        return False
    SecondTag.objects.bulk_create(
        SecondTag(piece=piece, goal_id=goal, how=how) for goal, how in tags.items()
    )
    return True


@dataclass(frozen=True)
class OfGoal:
    """How far the two agree on one goal: plain, and weighted by how far apart two words are.

    by_one: pieces that only one of them tagged with the goal; these are in no figure.
    """

    goal: Goal | None
    plain: Agreement
    linear: Agreement
    quadratic: Agreement
    by_one: int

    @property
    def agreed(self) -> int:
        """Return on how many pieces they used the same word."""
        return sum(self.plain.table[place][place] for place in range(len(WORDS)))

    @property
    def lines(self) -> list[tuple[str, tuple[int, ...]]]:
        """Return the table behind it: each word of the first looker, and how often each second."""
        labels = [str(how.label) for how in Tag.How]
        return list(zip(labels, self.plain.table, strict=True))


@dataclass(frozen=True)
class Outcome:
    """A sample: how many pieces were looked at, and agreement over all goals and on each."""

    drawn: int
    done: int
    together: OfGoal
    goals: Sequence[OfGoal]

    @property
    def finished(self) -> bool:
        """Whether nothing is left to do."""
        return self.drawn == self.done


def outcome(sample: Sample) -> Outcome:
    """Compare the two lookers of *sample* in a fixed number of queries."""
    pieces = list(sample.pieces.filter(submission__withdrawn_at=None).prefetch_related("tags"))
    done = [piece for piece in pieces if piece.looked_at]
    pairs: dict[int, list[tuple[str, str]]] = {}
    by_one: dict[int, int] = {}
    for piece in done:
        first = {int(goal): how for goal, how in piece.first.items()}
        second = {tag.goal_id: tag.how for tag in piece.tags.all()}
        for goal in first.keys() & second.keys():
            pairs.setdefault(goal, []).append((first[goal], second[goal]))
        for goal in first.keys() ^ second.keys():
            by_one[goal] = by_one.get(goal, 0) + 1
    goals = Goal.objects.filter(pk__in={*pairs, *by_one}).order_by("position")
    every = [pair for found in pairs.values() for pair in found]
    return Outcome(
        drawn=len(pieces),
        done=len(done),
        together=compare(None, every, sum(by_one.values())),
        goals=[compare(goal, pairs.get(goal.pk, []), by_one.get(goal.pk, 0)) for goal in goals],
    )


def compare(goal: Goal | None, pairs: Sequence[tuple[str, str]], by_one: int) -> OfGoal:
    """Reckon agreement from *pairs* of words."""
    return OfGoal(
        goal=goal,
        plain=agreement(pairs, WORDS),
        linear=agreement(pairs, WORDS, "linear"),
        quadratic=agreement(pairs, WORDS, "quadratic"),
        by_one=by_one,
    )


def outcome_table(name: str, headings: Sequence[object], goals: Iterable[OfGoal]) -> Table:
    """Return the figures of each goal as a table."""
    rows = [
        (
            one.goal.label if one.goal else "",
            one.plain.count,
            one.agreed,
            *(figure(each) for each in (one.plain, one.linear, one.quadratic)),
            one.plain.band or "",
            one.by_one,
        )
        for one in goals
    ]
    return Table(name, headings, rows)


def figure(found: Agreement) -> str:
    """Write kappa with two decimals, or say why there is none."""
    return f"{found.kappa:.2f}" if found.kappa is not None else found.reason
