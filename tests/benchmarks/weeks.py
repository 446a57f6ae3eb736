"""Rolling the week up: linear in classes, in flat memory, and every mail exactly once."""

import datetime as dt
import gc
import random
import tempfile
import threading
import tracemalloc
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

from django.core import mail
from django.db import connection
from django.utils import timezone
from freezegun import freeze_time

from assessment.jobs import make_due_summaries, send_waiting_mails
from assessment.models import MistakesFound, SummaryMail, WeekSummary
from assessment.weekly.summaries import make_due
from portal.people.models import SchoolClass
from tests.assessment.big_school import (
    at_home,
    copy,
    last_days,
    make_big_school,
    own_databases,
    send_work,
    set_days,
    use,
)
from tests.benchmarks import Figure, seconds

FEW, MANY, CHILDREN, DAYS, RUNS = 10, 100, 8, 4, 4
FRIDAY = dt.datetime(2026, 11, 27, 16, tzinfo=dt.UTC)
TIMES_AS_MANY = MANY / FEW


def measure() -> Iterator[Figure]:
    """Return the time and memory of 100 classes against 10, and the mails sent not once."""
    with (
        freeze_time(FRIDAY, tick=True),
        tempfile.TemporaryDirectory() as folder,
        own_databases(Path(folder)) as empty,
    ):
        few, many = copy(empty, "few.sqlite3"), copy(empty, "many.sqlite3")
        for path, count in ((few, FEW), (many, MANY)):
            use(path)
            fill(count)
        few_times, many_times = zip(
            *((rolled_up(few), rolled_up(many)) for _run in range(RUNS)), strict=True
        )
        taken = min(many_times) / min(few_times)
        most = 1.1 * TIMES_AS_MANY
        yield Figure("week summaries, time for 100 classes / 10", taken, "times", most=most)
        grown = peak(many) / peak(few)
        yield Figure("week summaries, memory for 100 classes / 10", grown, "times", most=1.5)
        wrong, sent = mails_not_once(few)
        yield Figure("mails of the week, delivered twice at once", sent, "sent")
        yield Figure("mails of the week not sent exactly once", wrong, "mails", most=0)


def fill(classes: int) -> None:
    """Make a school of so many classes, with homes and some days of work this week."""
    chance = random.Random(1)
    for school_class in make_big_school(FRIDAY.date(), classes, CHILDREN):
        at_home(school_class, FRIDAY)
        send_work(school_class, set_days(school_class, last_days(FRIDAY.date(), DAYS)), chance)


def rolled_up(path: Path) -> float:
    """Return how long it takes to roll the week up in the database at *path*, anew."""
    use(path)
    WeekSummary.objects.all().delete()
    taken = seconds(lambda: make_due(timezone.now()))
    assert WeekSummary.objects.filter(audience="staff").count() == SchoolClass.objects.count()
    return taken


def peak(path: Path) -> float:
    """Return the most memory that rolling the week up holds at once, in bytes.

    All answers are read anew, as on a Friday after a busy week. What only waits to be collected is
    not held: it is collected at every turn here.
    """
    use(path)
    WeekSummary.objects.all().delete()
    MistakesFound.objects.all().delete()
    usual = gc.get_threshold()
    gc.set_threshold(100, 1, 1)
    tracemalloc.start()
    try:
        make_due(timezone.now())
        return tracemalloc.get_traced_memory()[1]
    finally:
        tracemalloc.stop()
        gc.set_threshold(*usual)


def mails_not_once(path: Path) -> tuple[int, int]:
    """Run every job of the week's end twice at once; count mails not sent just once, and all."""
    use(path)
    WeekSummary.objects.all().delete()
    mail.outbox = []
    for job in (make_due_summaries, send_waiting_mails):
        together(job, job)
    sent = Counter(message.extra_headers["Message-ID"] for message in mail.outbox)
    wanted = SummaryMail.objects.count()
    assert wanted
    return wanted - len(sent) + sum(count - 1 for count in sent.values()), len(mail.outbox)


def together(*jobs: object) -> None:
    """Run *jobs* at the same time, each on a connection of its own."""

    def run(job: object) -> None:
        job()
        connection.close()

    threads = [threading.Thread(target=run, args=[job]) for job in jobs]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
