"""A teacher's word to families beside the week's summary: drafted, edited, released on time."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop

from assessment.insight.weeks import Week
from assessment.models import FamilyWord, WeekSummary
from portal.people.models import Child, SchoolClass, User
from tasks.cards.languages import ENGLISH, page_language, phrase_in, unlike_page
from tasks.models import DayPlan

DRAFT = gettext_noop("This week's number work was about: %(focus)s.")


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
    return DRAFT % {"focus": ", ".join(focus)} if focus else ""


def said_here(text: str) -> tuple[str, str]:
    """Return *text* in the page's language if it is as drafted() words it, and its language.

    A teacher's own words, and days that a teacher named, stay as they were written: in English.
    """
    before, after = DRAFT.split("%(focus)s")
    named = text.removeprefix(before).removesuffix(after)
    said = [phrase_in(focus, page_language()) for focus in named.split(", ")]
    if DRAFT % {"focus": named} != text or any(unlike_page(lang) for _focus, lang in said):
        return text, ENGLISH
    listed = _(", ").join(focus for focus, _lang in said)
    return _(DRAFT) % {"focus": listed}, page_language()


def words_for(school_class: SchoolClass, children: Sequence[Child], week: Week) -> list[Word]:
    """Return the word to the class's families, then that to each child's, as they stand."""
    rows = FamilyWord.objects.filter(school_class=school_class, week=week.monday)
    kept = {row.child_id: row for row in rows}
    whole = kept.get(None)
    text = whole.text if whole else drafted(school_class, week)
    return [
        Word(None, text, whole.version if whole else 0),
        *(
            Word(child, kept[child.pk].text, kept[child.pk].version)
            if child.pk in kept
            else Word(child, "", 0)
            for child in children
        ),
    ]


@transaction.atomic
def save_word(school_class: SchoolClass, week: Week, user: User, seen: Word, text: str) -> bool:
    """Store *text* in place of the word *seen*; False where somebody changed it meanwhile."""
    if not text and not seen.version and seen.child:
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


def released(children: Iterable[Child], week: Week) -> Mapping[int, list[tuple[str, str]]]:
    """Give the words that families of *children* may read, by the child's key: the class's first.

    Each comes with its language, "" for the page's. Nothing before the class's week is summed up.
    """
    keys = [child.pk for child in children]
    summaries = WeekSummary.objects.filter(
        audience=WeekSummary.Audience.FAMILY, child__in=keys, week=week.monday
    )
    classes = dict(summaries.values_list("child", "school_class"))
    rows = FamilyWord.objects.filter(school_class__in=set(classes.values()), week=week.monday)
    kept = {(row.school_class_id, row.child_id): row.text for row in rows}
    return {
        child: [_on_page(text) for key in (None, child) if (text := kept.get((of, key)))]
        for child, of in classes.items()
    }


def _on_page(text: str) -> tuple[str, str]:
    words, lang = said_here(text)
    return words, unlike_page(lang)
