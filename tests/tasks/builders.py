"""Day plans for tests: drafted by the village's teacher through the actions themselves."""

import datetime as dt

from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from evidence.models import Answer, Submission
from portal.people.models import Group
from tasks.models import DayPlan, Sequence, Task
from tasks.plans.planning import Seen, add_part
from tasks.plans.prompt_selection import Choice
from tasks.sequences.drafting import Order, draft
from tests.village import MONDAY, Village

DOUBLING = Choice("doubling", 10, 3, "core")


def empty_day(village: Village, date: dt.date = MONDAY) -> DayPlan:
    """Return the unsaved plan of a day on which nothing is planned for Robins."""
    return DayPlan(school_class=village.robins, date=date, version=0)


def seen(village: Village, plan: DayPlan, role: str = "teacher") -> Seen:
    """Return what *role* saw who has just loaded the page of *plan*."""
    return Seen(plan.version, village.people[role])


def drafted(
    village: Village,
    *parts: str,
    date: dt.date = MONDAY,
    choice: Choice = DOUBLING,
    group: Group | None = None,
) -> DayPlan:
    """Draft *parts* (the main task by default) for Robins and give the plan as stored."""
    plan = DayPlan.objects.filter(school_class=village.robins, date=date).first()
    for part in parts or ("main_task",):
        plan = plan or empty_day(village, date)
        add_part(plan, part, choice, seen(village, plan), group)
        plan = DayPlan.objects.get(school_class=village.robins, date=date)
    return plan


def gone_out(plan: DayPlan) -> DayPlan:
    """Let *plan* have gone out an hour ago, before any work came in."""
    plan.goes_out_at = timezone.now() - dt.timedelta(hours=1)
    plan.save()
    return plan


def send_work(village: Village, plan: DayPlan, answers_to: Task | None = None) -> Submission:
    """Send work for Aisha's day, with an answer to the first prompt of a part if given."""
    submission = Submission.objects.create(
        child=village.aisha, home=village.first_home, day_plan=plan
    )
    if answers_to:
        Answer.objects.create(submission=submission, prompt=answers_to.prompts.first(), text="4")
    return submission


def keys(task: Task) -> list[str]:
    """Return the keys of a part's prompts in order."""
    return [row.prompt.key for row in task.prompts.all()]


def queries_of(client: Client, address: str) -> int:
    """Count the queries of one page, from the second page of a session on."""
    client.get(address)
    with CaptureQueriesContext(connection) as queries:
        assert client.get(address).status_code == 200
    return len(queries)


def drafted_week(
    village: Village,
    focus: str = "halving",
    first: dt.date = MONDAY,
    days: int = 5,
    within: int = 20,
    known: tuple[str, ...] = (),
) -> Sequence:
    """Draft a sequence for Robins, a week on halving by default, through the action itself."""
    order = Order(focus, days, within, first, known)
    return draft(village.robins, order, village.people["teacher"])


def seen_now(village: Village, sequence: Sequence, role: str = "teacher") -> Seen:
    """Return what *role* sees who has just loaded the page of *sequence*."""
    return Seen(Sequence.objects.get(pk=sequence.pk).version, village.people[role])


def dates_of(sequence: Sequence) -> list[dt.date]:
    """Return the days of a sequence in order."""
    return list(sequence.day_plans.planned().values_list("date", flat=True))


def own_part(sequence: Sequence, date: dt.date, part: str = "main_task") -> Task:
    """Return the class's own part of a day of a sequence, as stored."""
    return Task.objects.get(day_plan__sequence=sequence, day_plan__date=date, part=part, group=None)
