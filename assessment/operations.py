"""What assessment tells operations: its files, what waits, and that no mail is sent twice."""

import datetime as dt
from collections.abc import Iterator

from django.db.models import Min
from django.utils import timezone

from assessment.models import SummaryMail, VoiceReply, WeekSummary
from assessment.weekly.mails import STALE, waiting
from assessment.weekly.summaries import late_classes, make_due_now
from portal.operations.hooks import Figure, Restored, StoredFile

TOLD_FOR = dt.timedelta(days=14)
LATE = 3600.0  # seconds; the job that sends runs every minute


def stored_files(using: str) -> Iterator[StoredFile]:
    """Yield the file of each spoken reply of database *using*."""
    rows = VoiceReply.objects.using(using).values_list("name", "sha256", "size")
    for name, sha256, size in rows.iterator():
        yield StoredFile(name, sha256, size)


def named_files(names: list[str]) -> Iterator[str]:
    """Yield those of *names* that a spoken reply speaks of. Raises DatabaseError."""
    yield from VoiceReply.objects.filter(name__in=names).values_list("name", flat=True)


def whose_files(names: list[str]) -> Iterator[tuple[str, int, dt.date]]:
    """Yield for those of *names* that a reply has the key of the child, and the day of the work."""
    whose = ("name", "submission__child_id", "submission__day_plan__date")
    yield from VoiceReply.objects.filter(name__in=names).values_list(*whose)


def figures() -> Iterator[Figure]:
    """Yield how many mails of the week wait, and how long the oldest that is due does."""
    now = timezone.now()
    unsent = SummaryMail.objects.unsent().filter(summary__made_at__gt=now - STALE)
    yield Figure("mails_waiting", "Mails of the week not sent yet.", unsent.count())
    untried = waiting(now).filter(attempts=0).aggregate(first=Min("summary__made_at"))
    waits = (now - untried["first"]).total_seconds() if untried["first"] else 0.0
    yield Figure(
        "oldest_mail_seconds",
        "How long the oldest mail of the week that nobody tried to send waits.",
        max(0.0, waits),
        limit=LATE,
        advice="See that worker and beat run, and that the mail server of EMAIL_URL answers.",
    )
    yield from figures_of_weeks(now)


def figures_of_weeks(now: dt.datetime) -> Iterator[Figure]:
    """Yield how many weeks are late, and how many were summed up with something left out."""
    yield Figure(
        "weeks_late",
        "Classes whose week was to be summed up two hours ago, and is not.",
        late_classes(now),
        limit=0,
        advice="See that worker and beat run; the log says which class failed, and by what.",
    )
    parts = WeekSummary.objects.filter(made_at__gt=now - TOLD_FOR, figures__left_out__gt=0)
    yield Figure(
        "weeks_not_whole",
        "Weeks of the last two weeks summed up without what this program cannot read any more.",
        parts.count(),
        limit=0,
        advice="The log names the work by its key. Restore what was kept of its prompts, or go "
        "back to the program that knew them. The mails went out.",
    )


def after_restore(_restored: Restored) -> Iterator[str]:
    """Roll up what is due, and have no mail of before sent: the reader may have it already."""
    make_due_now()
    silenced = SummaryMail.objects.filter(mailed_at=None).give_up()
    yield f"{silenced} mails of the week that waited will not be sent."
