"""Who was asked what: the goals that work set so far could have shown, by child."""

import datetime as dt
from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass

from django.utils import timezone

from assessment.day_parts import groups_of
from assessment.frameworks.showing.rule import suggest
from assessment.looks.suggestions import work_of
from assessment.models import Goal
from portal.people.models import Child, SchoolClass
from tasks.models import DayPlan, Task, TaskPrompt
from tasks.numberwork import EVERY_KIND
from tasks.numberwork.showing.facts import Facts, facts_of_form
from tasks.numberwork.showing.seen import WAYS, Seen

# The weeks' work: the latest days that were set, two school weeks of them, and what is drafted
# for the week to come. Common practice, no source.
DAYS_OF_WORK = 10
AHEAD = dt.timedelta(weeks=1)
PLENTY = 20  # right answers: more than any goal asks for
COUNTED_FAR = 1000
# By its plan and which part it is: key and group of each version of a part, the first made first.
Versions = dict[tuple[int, str], list[tuple[int, int | None]]]
# Seen in every way there is: what even this does not show was not asked.
SEEN_WHOLE = Seen(frozenset(WAYS), heard_to=COUNTED_FAR)


@dataclass(frozen=True, slots=True)
class Form:
    """One way in which a part asked: its kind's form, range and depth."""

    kind: str
    within: int
    depth: str
    form: str

    @property
    def facts(self) -> Facts | None:
        """Return what it can show; None where this program no longer knows it."""
        if self.kind not in EVERY_KIND or self.within not in EVERY_KIND[self.kind].ranges:
            return None
        return facts_of_form(self.kind, self.within, self.depth, self.form)


def kinds_of_weeks(school_class: SchoolClass, today: dt.date) -> set[str]:
    """Return the kinds of the weeks' work of a class, any group's included. Two queries."""
    plans = school_class.day_plans.filter(tasks__isnull=False).distinct()
    out = plans.filter(goes_out_at__lte=timezone.now(), date__lte=today).order_by("-date")
    days = list(out.values_list("pk", flat=True)[:DAYS_OF_WORK])
    coming = plans.filter(date__gt=today, date__lte=today + AHEAD)
    chosen = DayPlan.objects.filter(pk__in=days) | DayPlan.objects.filter(
        pk__in=coming.values("pk")
    )
    return set(Task.objects.filter(day_plan__in=chosen).values_list("kind", flat=True))


def goals_of_kinds(goals: Iterable[Goal], kinds: Collection[str]) -> set[str]:
    """Return the codes of the goals that work of these *kinds* is about."""
    return {
        goal.code
        for goal in goals
        if any(goal.asked.is_about(kind, tuple(goal.kinds)) for kind in kinds)
    }


def asked_of_class(
    school_class: SchoolClass, children: Sequence[Child], goals: Sequence[Goal]
) -> set[tuple[int | str, str]]:
    """Pair each child with each goal's code that some work set for it so far could have shown.

    Could have: were all of it answered rightly and alone, and seen in every way there is. As
    everywhere, a child counts as set what its groups of today were. Three queries.
    """
    forms = forms_by_task(school_class)
    members = groups_of(list(children))
    groups = {child.pk: frozenset(members[child.pk]) for child in children}
    tasks = tasks_by_part(school_class)
    codes = {
        held: _codes(goals, {form for task in _set_for(tasks, held) for form in forms[task]})
        for held in set(groups.values())
    }
    return {(child, code) for child, held in groups.items() for code in codes[held]}


def forms_by_task(school_class: SchoolClass) -> dict[int, set[Form]]:
    """Return the ways in which each part asked that a class was set so far, by the part's key."""
    rows = TaskPrompt.objects.filter(
        task__day_plan__school_class=school_class,
        task__day_plan__goes_out_at__lte=timezone.now(),
    )
    fields = ("task", "task__kind", "task__within", "task__depth", "data__form")
    found: dict[int, set[Form]] = defaultdict(set)
    for task, kind, within, depth, form in rows.order_by().values_list(*fields).distinct():
        found[task].add(Form(kind, within, depth, form or ""))
    return found


def tasks_by_part(school_class: SchoolClass) -> Versions:
    """Return the key and group of each part set so far, by its plan and which part it is."""
    rows = Task.objects.filter(
        day_plan__school_class=school_class, day_plan__goes_out_at__lte=timezone.now()
    )
    found: Versions = defaultdict(list)
    for plan, part, key, group in rows.order_by("pk").values_list(
        "day_plan", "part", "pk", "group"
    ):
        found[plan, part].append((key, group))
    return found


def _set_for(tasks: Versions, held: frozenset[int]) -> Iterator[int]:
    """Yield what a child of the groups *held* was set; the rule of TaskQuerySet.for_child."""
    for versions in tasks.values():
        own = next((key for key, group in versions if group in held), None)
        whole = next((key for key, group in versions if group is None), None)
        chosen = whole if own is None else own
        if chosen is not None:
            yield chosen


def _codes(goals: Sequence[Goal], forms: set[Form]) -> set[str]:
    works = [
        work_of(facts, PLENTY, PLENTY, SEEN_WHOLE, "alone")
        for form in forms
        if (facts := form.facts) is not None
    ]
    return {
        goal.code
        for goal in goals
        if any((found := suggest(goal.asked, goal.kinds, [work])) and found.how for work in works)
    }
