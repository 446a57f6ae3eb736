"""Goals as rows: loading the shipped ones, and the set that a class is tagged against."""

from django.db import transaction
from django.utils import timezone

from assessment import frameworks
from assessment.models import ClassFramework, Framework, Goal
from portal.people.models import SchoolClass

SAID = ("title", "notice", "stem", "judged_by", "publisher", "edition", "source", "licence")


def load_frameworks() -> list[Framework]:
    """Bring the rows of the shipped frameworks up to what their files say; any number of times.

    Changed words are changed, goals no longer in a file are put away, not deleted: old tags
    keep their goal. A school's own frameworks are left alone.
    """
    with transaction.atomic():
        return [keep_framework(shipped) for shipped in frameworks.all_frameworks()]


def keep_framework(given: frameworks.Framework) -> Framework:
    """Store one shipped framework and its goals."""
    row, _new = Framework.objects.update_or_create(
        slug=given.id, school=None, defaults=said_of(given)
    )
    for position, goal in enumerate(given.goals):
        Goal.objects.update_or_create(
            framework=row,
            code=goal.code,
            defaults={**said_of_goal(goal), "position": position, "retired_at": None},
        )
    gone = row.goals.in_use().exclude(code__in=[goal.code for goal in given.goals])
    gone.update(retired_at=timezone.now())
    return row


def said_of(given: frameworks.Framework) -> dict[str, object]:
    """Return the fields of the row that holds *given*, except whose it is."""
    fields = {name: getattr(given, name) for name in SAID}
    return {**fields, "identifier": given.id, "levels": list(given.levels)}


def said_of_goal(goal: frameworks.Goal) -> dict[str, object]:
    """Return the fields of the row that holds *goal*, but for its code and place."""
    fields = {name: getattr(goal, name) for name in ("strand", "text", "why", "note")}
    return {
        **fields,
        "identifier": goal.identifier,
        "kinds": list(goal.kinds),
        "asks": goal.asks.data(),
    }


def framework_of(school_class: SchoolClass) -> Framework:
    """Return the goals *school_class* is tagged against: the early learning goals by default."""
    chosen = Framework.objects.filter(classes__school_class=school_class).first()
    return chosen or default_framework()


def default_framework() -> Framework:
    """Return the default framework, storing it where nobody has done so yet."""
    stored = Framework.objects.filter(slug=frameworks.DEFAULT, school=None).first()
    return stored or keep_framework(frameworks.framework_by_id(frameworks.DEFAULT))


def choose_framework(school_class: SchoolClass, framework: Framework) -> None:
    """Have *school_class* tagged against *framework* from now on; tags made before stay."""
    ClassFramework.objects.update_or_create(
        school_class=school_class, defaults={"framework": framework}
    )
