"""Handing work to the broker. One that is away is no error: the sweep finds what is left to do."""

import logging
from collections.abc import Callable
from typing import Any

from celery import Task
from kombu.exceptions import OperationalError

from portal.jobs.slots import Weight

log = logging.getLogger("portal.jobs")


def send(job: Task, *arguments: Any, weight: Weight = Weight.NOW) -> bool:
    """Have *job* done with *arguments*, which are ids and plain words; False: broker away."""
    try:
        job.apply_async(arguments, queue=weight, retry=False)
    except (OperationalError, OSError):
        log.warning("the broker is away: %s %s waits for the sweep", job.name, arguments)
        return False
    return True


def sending(job: Task, *arguments: Any, weight: Weight = Weight.NOW) -> Callable[[], bool]:
    """Return what hands *job* over when it is called, for `transaction.on_commit`."""
    return lambda: send(job, *arguments, weight=weight)
