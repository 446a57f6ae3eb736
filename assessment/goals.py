"""Goals as rows: loading the shipped ones, a class's framework, goals a piece of work may show."""

from collections.abc import Iterable, Sequence

from django.db import transaction
from django.utils import timezone

from assessment import frameworks
from assessment.models import Framework, Goal
from portal.people.models import SchoolClass

SUGGESTED_AT_MOST = 4  # More than a teacher reads at a glance helps nobody.


def load_frameworks() -> list[Framework]:
    """Bring the rows of the shipped frameworks up to what their files say; any number of times.

    Changed words are changed, goals no longer in a file are put away, not deleted: old tags
    keep their goal. A school's own frameworks are left alone.
    """
    with transaction.atomic():
        return [keep_framework(shipped) for shipped in frameworks.all_frameworks()]


def keep_framework(given: frameworks.Framework) -> Framework:
    """Store one shipped framework and its goals."""
    fields = {name: getattr(given, name) for name in ("title", "notice", "stem", "judged_by")}
    row, _new = Framework.objects.update_or_create(
        slug=given.id, school=None, defaults={**fields, "levels": list(given.levels)}
    )
    for position, goal in enumerate(given.goals):
        Goal.objects.update_or_create(
            framework=row,
            code=goal.code,
            defaults={
                "strand": goal.strand,
                "text": goal.text,
                "kinds": list(goal.kinds),
                "position": position,
                "retired_at": None,
            },
        )
    gone = row.goals.in_use().exclude(code__in=[goal.code for goal in given.goals])
    gone.update(retired_at=timezone.now())
    return row


def framework_of(school_class: SchoolClass) -> Framework:
    """Give the goals *school_class* is tagged against: the early learning goals by default."""
    chosen = Framework.objects.filter(classes__school_class=school_class).first()
    return chosen or default_framework()


def default_framework() -> Framework:
    """Give the default framework, storing it where nobody has done so yet."""
    stored = Framework.objects.filter(slug=frameworks.DEFAULT, school=None).first()
    return stored or keep_framework(frameworks.framework_by_id(frameworks.DEFAULT))


def suggest_goals(goals: Iterable[Goal], kinds: Sequence[str]) -> list[Goal]:
    """Give at most four of *goals* that work of these *kinds* may show, the likeliest first.

    kinds: the weightiest first. A goal names its most direct kinds first; so the first kind
    decides, and among its goals how near the front it stands. Common practice, no source.
    """
    ranked = []
    for goal in goals:
        places = [
            (kinds.index(kind), goal.kinds.index(kind)) for kind in goal.kinds if kind in kinds
        ]
        if places:
            ranked.append((min(places), goal.position, goal))
    ranked.sort(key=lambda entry: entry[:2])
    return [goal for _place, _position, goal in ranked[:SUGGESTED_AT_MOST]]
