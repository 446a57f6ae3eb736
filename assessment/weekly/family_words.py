"""A teacher's word to families beside the week's summary: drafted, edited, released on time."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from assessment.insight.weeks import Week
from assessment.models import FamilyWord, WeekSummary
from portal.people.models import Child, SchoolClass, User
from tasks.models import DayPlan


@dataclass(frozen=True)
class Word:
    """A word as it stands: to the class's families (no child) or one child's; 0: only drafted."""

    child: Child | None
    text: str
    version: int

    @property
    def prefix(self) -> str:
        """Return what the names of its fields begin with."""
        return f"word-{self.child.pk}" if self.child else "word"


def drafted(school_class: SchoolClass, week: Week) -> str:
    """Draft the word to all families: what the week's number work was about; empty without any."""
    plans = DayPlan.objects.filter(
        school_class=school_class, date__range=(week.monday, week.sunday), tasks__isnull=False
    )
    focus = dict.fromkeys(plan.focus.strip(" .") for plan in plans.order_by("date") if plan.focus)
    if not focus:
        return ""
    return _("This week's number work was about: %(focus)s.") % {"focus": ", ".join(focus)}


def words_for(school_class: SchoolClass, children: Sequence[Child], week: Week) -> list[Word]:
    """Return the word to the class's families, then that to each child's, as they stand."""
    rows = FamilyWord.objects.filter(school_class=school_class, week=week.monday)
    held = {row.child_id: row for row in rows}
    whole = held.get(None)
    text = whole.text if whole else drafted(school_class, week)
    return [
        Word(None, text, whole.version if whole else 0),
        *(
            Word(child, held[child.pk].text, held[child.pk].version)
            if child.pk in held
            else Word(child, "", 0)
            for child in children
        ),
    ]


@transaction.atomic
def save_word(school_class: SchoolClass, week: Week, user: User, seen: Word, text: str) -> bool:
    """Store *text* in place of the word *seen*; False where somebody changed it meanwhile."""
    if text == seen.text and (seen.version or not text):
        return True
    key = {"school_class": school_class, "week": week.monday, "child": seen.child}
    if seen.version:
        same = FamilyWord.objects.filter(**key, version=seen.version)
        said = {"text": text, "version": seen.version + 1, "by": user, "at": timezone.now()}
        return bool(same.update(**said))
    _row, new = FamilyWord.objects.get_or_create(**key, defaults={"text": text, "by": user})
    return new


def release(school_class: SchoolClass, week: Week) -> None:
    """Keep the word as it was drafted where nobody touched it: families read it from now on."""
    FamilyWord.objects.get_or_create(
        school_class=school_class,
        week=week.monday,
        child=None,
        defaults={"text": drafted(school_class, week)},
    )


def released(children: Iterable[Child], week: Week) -> Mapping[int, list[str]]:
    """Give the words that families of *children* may read, by the child's key: the class's first.

    Nothing before the week of the class is summed up.
    """
    keys = [child.pk for child in children]
    told = WeekSummary.objects.filter(
        audience=WeekSummary.Audience.FAMILY, child__in=keys, week=week.monday
    )
    classes = dict(told.values_list("child", "school_class"))
    rows = FamilyWord.objects.filter(school_class__in=set(classes.values()), week=week.monday)
    held = {(row.school_class_id, row.child_id): row.text for row in rows}
    return {
        child: [text for key in (None, child) if (text := held.get((of, key)))]
        for child, of in classes.items()
    }
