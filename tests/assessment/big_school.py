"""A big invented school for the bench, filled row by row in bulk, in databases of its own."""

import datetime as dt
import logging
import random
import shutil
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from itertools import islice
from pathlib import Path

from django.core.management import call_command
from django.db import connection
from django.test.utils import override_settings

from assessment.goals.goal_sets import default_framework
from assessment.models import Goal, Look, Tag
from evidence.models import Answer, Submission
from portal.people.models import (
    Child,
    Guardianship,
    Home,
    School,
    SchoolClass,
    SchoolYear,
    StaffPost,
    User,
)
from tasks.models import DayPlan, Task, TaskPrompt
from tasks.numberwork import make_prompts
from tests.village import make_child, make_staff

CHILDREN, WAITING = 30, 30
PLAIN_STATIC = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"},
}


@contextmanager
def own_databases(folder: Path) -> Iterator[Path]:
    """Work on SQLite files in *folder* instead of the portal's data; give an empty one's path."""
    was = connection.settings_dict["NAME"]
    first = folder / "bare.sqlite3"
    with override_settings(
        STORAGES=PLAIN_STATIC,
        ALLOWED_HOSTS=["*"],
        SECURE_SSL_REDIRECT=False,
        EMAIL_BACKEND="django.core.mail.backends.locmem.EmailBackend",
    ):
        use(first)
        logging.disable(logging.INFO)
        try:
            call_command("migrate", verbosity=0)
            yield first
        finally:
            logging.disable(logging.NOTSET)
            use(Path(was))


def use(path: Path) -> None:
    """Go on in the database at *path*."""
    connection.close()
    connection.settings_dict["NAME"] = str(path)


def copy(source: Path, name: str) -> Path:
    """Return a copy of the database at *source*, in use from now on."""
    use(source)
    with connection.cursor() as cursor:
        cursor.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    connection.close()
    path = source.with_name(name)
    shutil.copyfile(source, path)
    use(path)
    return path


def weekdays_back(today: dt.date) -> Iterator[dt.date]:
    """Yield the weekdays before *today*, the latest first."""
    day = today
    while True:
        day -= dt.timedelta(days=1)
        if day.weekday() < 5:
            yield day


def make_big_school(
    today: dt.date, classes: int, children: int = CHILDREN, goals: int = 0
) -> list[SchoolClass]:
    """Make a school with *classes* of *children* each and a teacher for the first.

    goals: how many the framework is to have; without, as many as it has.
    """
    school = School.objects.create(name="Long Quay", requires_second_factor=False)
    year = SchoolYear.objects.create(
        school=school,
        starts=today - dt.timedelta(days=300),
        ends=today + dt.timedelta(days=60),
    )
    made = [SchoolClass.objects.create(year=year, name=f"Class {n}") for n in range(classes)]
    for school_class in made:
        for number in range(children):
            make_child(school_class, f"Kid{number:02}", "Z")
    make_staff("bench-teacher", school, StaffPost.Role.TEACHER, made[:1])
    framework = default_framework()
    for place in range(framework.goals.count(), goals):
        framework.goals.create(
            code=f"X{place}", strand="X", text=f"Goal {place}", kinds=["halving"], position=place
        )
    return made


def set_days(school_class: SchoolClass, days: Sequence[dt.date]) -> list[DayPlan]:
    """Set a main task of four prompts on each of *days*."""
    out = dt.datetime(2020, 1, 1, tzinfo=dt.UTC)
    plans = DayPlan.objects.bulk_create(
        DayPlan(school_class=school_class, date=day, focus="Halving", goes_out_at=out)
        for day in days
    )
    tasks = Task.objects.bulk_create(
        Task(day_plan=plan, part="main_task", kind="halving", within=20, count=4, seed=7)
        for plan in plans
    )
    prompts = make_prompts("halving", 20, 4, 7)
    TaskPrompt.objects.bulk_create(
        TaskPrompt.of(task, place, prompt) for task in tasks for place, prompt in enumerate(prompts)
    )
    return plans


def send_work(school_class: SchoolClass, plans: Sequence[DayPlan], chance: random.Random) -> None:
    """Let every child send answers for each of *plans*, looked at and tagged with two goals."""
    children = list(school_class.children.all())
    goals = list(Goal.objects.all())
    prompts: dict[int, list[TaskPrompt]] = {}
    for row in TaskPrompt.objects.filter(task__day_plan__in=plans).select_related("task"):
        prompts.setdefault(row.task.day_plan_id, []).append(row)
    zone = school_class.school.zone
    work = Submission.objects.bulk_create(
        Submission(
            child=child,
            day_plan=plan,
            sent_at=(at := dt.datetime.combine(plan.date, dt.time(17), tzinfo=zone)),
            looked_at=at,
            help="alone",
        )
        for plan in plans
        for child in children
    )
    Answer.objects.bulk_create(
        Answer(submission=one, prompt=row, text=str(answer(row, chance)))
        for one in work
        for row in prompts[one.day_plan_id]
    )
    Look.objects.bulk_create(Look(submission=one, reply="Fair shares!") for one in work)
    Tag.objects.bulk_create(
        Tag.on(one, goal.pk, chance.choice(Tag.How.values))
        for one in work
        for goal in chance.sample(goals, 2)
    )


def answer(row: TaskPrompt, chance: random.Random) -> object:
    """Return a right answer nine times in ten, else the double."""
    prompt = row.prompt
    return prompt.answer if chance.random() < 0.9 else prompt.mistakes.get("doubled", 99)


def let_wait(school_class: SchoolClass) -> None:
    """Let the latest pieces of *school_class* wait for a look."""
    latest = Submission.objects.filter(child__school_class=school_class).order_by("-sent_at", "-pk")
    keys = list(latest.values_list("pk", flat=True)[:WAITING])
    Tag.objects.filter(submission__in=keys).delete()
    Submission.objects.filter(pk__in=keys).update(looked_at=None)


def at_home(school_class: SchoolClass, now: dt.datetime) -> None:
    """Give every child of *school_class* a home with an adult who is mailed."""
    for child in Child.objects.filter(school_class=school_class):
        home = Home.objects.create(school=child.school)
        adult = User.objects.create_user(
            f"home{child.pk}@example.org", "An adult", email_confirmed_at=now
        )
        Guardianship.objects.create(adult=adult, child=child, home=home)


def last_days(today: dt.date, count: int) -> list[dt.date]:
    """Return the last *count* weekdays before *today*, the earliest first."""
    return list(islice(weekdays_back(today), count))[::-1]
