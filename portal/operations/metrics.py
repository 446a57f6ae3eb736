"""How the portal is, in counts and seconds: what /metrics shows and `doctor` judges."""

import shutil
from collections.abc import Iterator

from celery import current_app
from django.conf import settings
from kombu.exceptions import ChannelError, OperationalError

from portal.operations.hooks import Figure, app_figures
from portal.operations.models import Mark


class BrokerAwayError(Exception):
    """The job broker does not answer."""


def all_figures() -> Iterator[Figure]:
    """Yield every figure, the apps' first. Raises django.db.Error."""
    yield from app_figures()
    yield from job_figures()
    yield from mark_figures()
    disk = shutil.disk_usage(settings.DATA_DIR)
    yield Figure("disk_free_bytes", "Free space where the data is.", disk.free)
    yield Figure("disk_size_bytes", "All space where the data is.", disk.total)


def job_figures() -> Iterator[Figure]:
    """Yield whether the broker answers, and how many jobs wait in each queue if it does."""
    try:
        waiting = queue_lengths()
    except BrokerAwayError:
        waiting = {}
    yield Figure("broker_answers", "1 when the job broker answers.", float(bool(waiting)))
    for queue, jobs in waiting.items():
        yield Figure("jobs_waiting", "Jobs in the queue.", jobs, (("queue", queue),))


def queue_lengths() -> dict[str, int]:
    """Return how many jobs wait in each queue. Raises BrokerAwayError."""
    try:
        with current_app.connection_for_read() as connection:
            connection.ensure_connection(max_retries=1, timeout=2)
            return {name: length(connection, name) for name in current_app.amqp.queues}
    except (OperationalError, OSError) as error:
        raise BrokerAwayError from error


def length(connection: object, queue: str) -> int:
    """Return how many jobs wait in *queue*; one that was never used is empty."""
    try:
        return connection.default_channel.queue_declare(queue, passive=True).message_count
    except ChannelError:
        return 0


def mark_figures() -> Iterator[Figure]:
    """Yield how long ago each thing was last done; nothing for what never was."""
    ages = Mark.ages()
    for name in Mark.Name:
        if name in ages:
            words = f"How long ago this last went well: {name.label}."
            yield Figure(f"last_{name.value}_seconds", words, ages[name])
