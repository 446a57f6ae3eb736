"""What was set in the invented class: doubling, then halving, then halving written as ÷ 2."""

import datetime as dt
from dataclasses import asdict

from assessment.demo.people import Cast
from portal.people.models import SchoolClass
from tasks.drawing import Choice
from tasks.models import DayPlan, Task, TaskPrompt
from tasks.numberwork import make_prompts
from tasks.wording import say_as_usual

FOCUS = (("doubling", 20), ("halving", 20), ("halving-number-sentence", 20))
PARTS = (
    (Task.Part.WARM_UP, ("counting-on-in-ones", 20), ("counting-on-in-twos", 20)),
    (Task.Part.QUICK_RECALL, ("one-more", 20), ("adding", 10)),
)
OUT_AT = dt.time(7, 0)
WORDS = {
    "doubling": "Doubling: the same again.",
    "halving": "Halving: two equal parts.",
    "halving-number-sentence": "Halving, written with ÷\N{NO-BREAK SPACE}2.",
}


def school_days(first: dt.date, last: dt.date) -> list[dt.date]:
    """Give the weekdays from *first* to *last*."""
    days = (first + dt.timedelta(days=n) for n in range((last - first).days + 1))
    return [day for day in days if day.weekday() < 5]


def make_plans(cast: Cast, today: dt.date) -> list[DayPlan]:
    """Set three weeks up to today's, and draft the next school day. Newest last."""
    monday = today - dt.timedelta(days=today.weekday())
    first = monday - dt.timedelta(weeks=2)
    plans = []
    for day in school_days(first, monday + dt.timedelta(days=7)):
        week = min((day - first).days // 7, 2)
        if day > today and any(plan.date > today for plan in plans):
            break
        plans.append(make_plan(cast, cast.robins, day, FOCUS[week], is_draft=day > today))
        if day == today:
            make_plan(cast, cast.wrens, day, FOCUS[0], is_draft=False)
    return plans


def make_plan(
    cast: Cast, school_class: SchoolClass, day: dt.date, focus: tuple[str, int], *, is_draft: bool
) -> DayPlan:
    """Plan one day around *focus* (kind and range), and set it for seven in the morning."""
    kind, within = focus
    out_at = dt.datetime.combine(day, OUT_AT, tzinfo=cast.school.zone)
    plan = DayPlan.objects.create(
        school_class=school_class,
        date=day,
        focus=WORDS[kind],
        goes_out_at=None if is_draft else out_at,
        made_by=cast.teacher,
    )
    seed = day.toordinal()
    odd = seed % 2
    for part, *choices in PARTS:
        add(plan, part, Choice(*choices[odd], 3, "core"), seed)
    add(plan, Task.Part.NUMBER_OF_THE_DAY, Choice("number-of-the-day", 10, 3, "core"), seed)
    add(plan, Task.Part.MAIN_TASK, Choice(kind, within, 5, "core"), seed)
    if school_class == cast.robins and day.weekday() >= 2:
        easier = Choice(kind, 10, 3, "with support")
        group = school_class.groups.first()
        add(plan, Task.Part.MAIN_TASK, easier, seed, group=group)
    add(plan, Task.Part.TRY_AT_HOME, Choice(kind, 10, 1, "core"), seed + 1)
    return plan


def add(plan: DayPlan, part: str, choice: Choice, seed: int, group: object = None) -> Task:
    """Add one part with its prompts and the usual words."""
    task = Task(day_plan=plan, part=part, group=group, seed=seed, **asdict(choice))
    say_as_usual(task)
    task.save()
    prompts = make_prompts(choice.kind, choice.within, choice.count, seed, depth=choice.depth)
    TaskPrompt.objects.bulk_create(
        TaskPrompt.of(task, position, prompt) for position, prompt in enumerate(prompts)
    )
    return task
