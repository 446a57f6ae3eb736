"""What a child did in a week, beside the box for a word to its family, and a sentence to begin."""

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop, ngettext

from assessment.insight.taking_part import Part
from assessment.insight.weeks import Week
from assessment.models import Goal, Tag
from assessment.weekly.class_week import class_week
from evidence.models import Submission
from portal.people.models import Child, SchoolClass, User

# The strongest way of showing first: of each focus the draft names that one alone.
SAID = (
    (Tag.How.NEW_SITUATION, gettext_noop("%(what)s in a new situation")),
    (Tag.How.INDEPENDENTLY, gettext_noop("%(what)s alone")),
    (Tag.How.WITH_SUPPORT, gettext_noop("%(what)s with help")),
)


@dataclass(frozen=True)
class ChildFacts:
    """A child's week: what became of each day set, the work that came, and a draft from it."""

    days: list[tuple[dt.date, Part]] = field(default_factory=list)
    works: list[Submission] = field(default_factory=list)
    draft: str = ""

    @property
    def seen(self) -> list[tuple[Goal, list[str]]]:
        """Return each goal tagged, and how it was shown, in the order of the work."""
        found: dict[Goal, dict[str, None]] = {}
        for tag in (tag for work in self.works for tag in work.tags.all()):
            found.setdefault(tag.goal, {})[tag.get_how_display()] = None
        return [(goal, list(how)) for goal, how in found.items()]


def facts_of(school_class: SchoolClass, user: User, week: Week) -> dict[int, ChildFacts]:
    """Gather the week of each child of *school_class* by its key, in a fixed number of queries."""
    children = Child.objects.taught_by(user).filter(school_class=school_class)
    whole = class_week(school_class, children, week)
    came = (
        Submission.objects.taught_by(user)
        .active()
        .filter(
            child__in=[row.child.pk for row in whole.register],
            day_plan__date__range=(week.monday, week.sunday),
        )
    )
    works: dict[int, list[Submission]] = {}
    for work in came.for_list().prefetch_related("tags__goal").order_by("day_plan__date", "pk"):
        works.setdefault(work.child_id, []).append(work)
    return {
        row.child.pk: ChildFacts(
            days=list(zip(whole.days_set, row.parts, strict=True)),
            works=works.get(row.child.pk, []),
            draft=draft_of(row.child, works.get(row.child.pk, [])),
        )
        for row in whole.register
    }


def draft_of(child: Child, works: Sequence[Submission]) -> str:
    """Draft a sentence to the family from what was seen; "" when nothing came."""
    days = len({work.day_plan_id for work in works})
    if not days:
        return ""
    sent = ngettext(
        "%(name)s sent number work on %(days)d day.",
        "%(name)s sent number work on %(days)d days.",
        days,
    ) % {"name": child.first_name, "days": days}
    seen = list(shown_words(best_shown(works)))
    return f"{sent} {_('I saw')} {listed(seen)}." if seen else sent


def best_shown(works: Iterable[Submission]) -> Mapping[str, str]:
    """Return the strongest way in which each focus was shown, those shown not yet left out."""
    order = [how for how, _words in SAID]
    best: dict[str, str] = {}
    for work in works:
        for tag in work.tags.all():
            focus = work.day_plan.focus.strip(" .")
            if focus and tag.how in order:
                known = best.get(focus, tag.how)
                best[focus] = min(known, tag.how, key=order.index)
    return best


def shown_words(best: Mapping[str, str]) -> Iterable[str]:
    """Say each focus and how it was shown, the strongest first."""
    for how, words in SAID:
        for focus in (each for each, shown in best.items() if shown == how):
            yield _(words) % {"what": focus[:1].lower() + focus[1:]}


def listed(words: Sequence[str]) -> str:
    """Join *words* as one says them.

    >>> listed(["halving alone", "doubling with help"])
    'halving alone and doubling with help'
    """
    *first, last = words
    return f"{', '.join(first)} {_('and')} {last}" if first else last
