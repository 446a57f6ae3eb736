"""A school's own sets of goals: read from a file into a draft, looked over, taken into use."""

from collections.abc import Sequence
from dataclasses import dataclass

from django.db import transaction
from django.utils import timezone
from django.utils.text import slugify

from assessment import frameworks
from assessment.goals.goal_sets import said_of, said_of_goal
from assessment.models import Framework, Goal
from portal.people.models import School

FIELDS = ("strand", "text", "why", "note", "identifier", "kinds", "asks")


@dataclass(frozen=True)
class Changes:
    """What taking a draft into use would change in the set it puts right."""

    new: list[Goal]
    changed: list[Goal]
    gone: list[Goal]


def read_file(data: bytes, title: str) -> frameworks.Framework:
    """Read a set of goals from a CASE package or a CSV table; a table is called *title*.

    Raises frameworks.FrameworkError, naming the field or the row and column.
    """
    if data.removeprefix(b"\xef\xbb\xbf").lstrip()[:1] in (b"{", b"["):
        return frameworks.read_case(data)
    if not title:
        raise frameworks.FrameworkError("title: a table has no name of its own; write one.")
    return frameworks.read_csv(data, name=slug_of(title), title=title)


def slug_of(name: str) -> str:
    """Return the name under which a school's own set is known: letters, digits and hyphens."""
    return slugify(name)[:60].strip("-") or "own-goals"


@transaction.atomic
def make_draft(school: School, given: frameworks.Framework) -> Framework:
    """Store *given* as a draft of *school*; a set of the same name there is what it puts right.

    An earlier draft of the same name goes. Where the file names no kinds for a statement that
    the school has ticked some for, those are taken over; so is what it asks of work.
    """
    slug = slug_of(given.id)
    own = Framework.objects.filter(school=school, slug=slug)
    own.filter(draft=True).delete()
    replaces = own.filter(draft=False).first()
    draft = Framework.objects.create(
        **said_of(given), slug=slug, school=school, draft=True, replaces=replaces
    )
    before = {goal.code: goal for goal in replaces.goals.all()} if replaces else {}
    rows = []
    for position, goal in enumerate(given.goals):
        row = Goal(framework=draft, code=goal.code, position=position, **said_of_goal(goal))
        if (known := before.get(goal.code)) is not None:
            row.kinds, row.asks = row.kinds or known.kinds, row.asks or known.asks
        rows.append(row)
    Goal.objects.bulk_create(rows)
    return draft


def changes(draft: Framework) -> Changes | None:
    """Compare *draft* with the set it puts right; None where it is a new one. Two queries."""
    if draft.replaces_id is None:
        return None
    before = {goal.code: goal for goal in Goal.objects.filter(framework=draft.replaces_id)}
    after = {goal.code: goal for goal in draft.goals.all()}
    return Changes(
        new=[goal for code, goal in after.items() if code not in before],
        changed=[
            goal for code, goal in after.items() if code in before and differ(goal, before[code])
        ],
        gone=[goal for code, goal in before.items() if code not in after and not goal.retired_at],
    )


def differ(one: Goal, other: Goal) -> bool:
    """Whether two statements of the same code say different things, or one is retired."""
    return one.retired_at != other.retired_at or any(
        getattr(one, name) != getattr(other, name) for name in FIELDS
    )


@transaction.atomic
def accept(draft: Framework) -> Framework:
    """Take *draft* into use, and give the set that is: itself, or the one it puts right.

    Statements keep their key, and so their tags; those no longer in the file are retired.
    """
    kept = Framework.objects.select_for_update().filter(pk=draft.replaces_id).first()
    if kept is None:
        draft.draft, draft.changed_at = False, timezone.now()
        draft.save(update_fields=["draft", "changed_at"])
        return draft
    goals = list(draft.goals.all())
    for name in ("title", "notice", "stem", "judged_by", "levels", "publisher", "edition"):
        setattr(kept, name, getattr(draft, name))
    kept.identifier, kept.source, kept.licence = draft.identifier, draft.source, draft.licence
    kept.changed_at, kept.put_away_at = timezone.now(), None
    kept.save()
    bring_in(kept, goals)
    draft.delete()
    return kept


def bring_in(kept: Framework, goals: Sequence[Goal]) -> None:
    """Make the statements of *kept* say what *goals* do, by their codes."""
    kept.goals.in_use().exclude(code__in=[goal.code for goal in goals]).update(
        retired_at=timezone.now()
    )
    Goal.objects.bulk_create(
        [copied(goal, kept) for goal in goals],
        update_conflicts=True,
        unique_fields=["framework", "code"],
        update_fields=[*FIELDS, "position", "retired_at"],
    )


def copied(goal: Goal, framework: Framework) -> Goal:
    """Return the unsaved row that says in *framework* what *goal* does."""
    said = {name: getattr(goal, name) for name in (*FIELDS, "code", "position", "retired_at")}
    return Goal(framework=framework, **said)


def set_away(framework: Framework, away: bool) -> None:
    """Stop offering *framework* to classes, or offer it again. Classes that have it keep it."""
    when = timezone.now() if away else None
    Framework.objects.filter(pk=framework.pk).update(put_away_at=when)


def set_retired(goal: Goal, retired: bool) -> None:
    """Keep new tags from naming *goal*, or allow it again. Tags that do stay."""
    now = timezone.now()
    Goal.objects.filter(pk=goal.pk).update(retired_at=now if retired else None)
    Framework.objects.filter(pk=goal.framework_id).update(changed_at=now)


def reword(goal: Goal, said: dict[str, str]) -> None:
    """Change the words of *goal*: text, strand, why and note."""
    Goal.objects.filter(pk=goal.pk).update(**said)
    Framework.objects.filter(pk=goal.framework_id).update(changed_at=timezone.now())


@transaction.atomic
def tick_kinds(framework: Framework, ticked: dict[int, list[str]]) -> None:
    """Say for statements of *framework*, by their keys, which kinds of number work show them.

    The kinds that were there keep their order, which is that of relevance; new ones follow.
    """
    goals = list(framework.goals.filter(pk__in=ticked))
    for goal in goals:
        wanted = ticked[goal.pk]
        kept = [kind for kind in goal.kinds if kind in wanted]
        goal.kinds = kept + [kind for kind in wanted if kind not in kept]
    Goal.objects.bulk_update(goals, ["kinds"])
    Framework.objects.filter(pk=framework.pk).update(changed_at=timezone.now())


def as_framework(row: Framework) -> frameworks.Framework:
    """Return *row* and its statements in use as a value, to be written out.

    Raises frameworks.FrameworkError where none is in use.
    """
    goals = tuple(
        frameworks.Goal(
            code=goal.code,
            strand=goal.strand,
            text=goal.text,
            kinds=tuple(goal.kinds),
            why=goal.why,
            note=goal.note,
            identifier=goal.identifier,
            asks=goal.asked,
        )
        for goal in row.goals.in_use()
    )
    return frameworks.Framework(
        id=row.identifier or row.slug,
        title=row.title,
        publisher=row.publisher,
        edition=row.edition,
        source=row.source,
        licence=row.licence,
        notice=row.notice,
        stem=row.stem,
        levels=tuple(row.levels),
        judged_by=row.judged_by,
        strands=frameworks.strands_of(goals),
        goals=goals,
    )
