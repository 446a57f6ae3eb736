"""How many jobs of each weight run at once in one worker, so that none holds up another.

The broker's messages are hints, and the rows say what is left to do. So a job for which no slot
is free ends at once: whoever has the slot looks for more before it goes, or a sweep comes soon.
"""

import enum
from collections import defaultdict
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import wraps
from threading import BoundedSemaphore

from django.conf import settings


class Weight(enum.StrEnum):
    """What a job weighs; the name of its queue."""

    NOW = "now"  # ticks and sweeps: what takes no time, and mails
    PHOTOS = "photos"  # photos, pages and voices: seconds
    CLIPS = "clips"  # minutes of both processors
    NIGHTS = "nights"  # purges, copies, summing up, comparing of files


MAILS_AT_ONCE = 4  # a mail server that says nothing takes no more threads than that
_work = {weight: BoundedSemaphore(settings.JOB_WORKERS) for weight in (Weight.PHOTOS, Weight.CLIPS)}
_mails = BoundedSemaphore(MAILS_AT_ONCE)
_alone: dict[str, BoundedSemaphore] = defaultdict(BoundedSemaphore)


def work_off(weight: Weight, do_one: Callable[[], bool]) -> None:
    """Call *do_one* until it finds nothing more to do, if a slot of *weight* is free.

    do_one: does one thing, and tells whether there was one.
    """
    slot = _work[weight]
    while slot.acquire(blocking=False):
        try:
            if not do_one():
                return
            while do_one():
                pass
        finally:
            slot.release()
        # Once more: what came while the slot was being left found none free.


@contextmanager
def mail_slot() -> Iterator[bool]:
    """Lend a slot for talking to the mail server; False when none is free."""
    free = _mails.acquire(blocking=False)
    try:
        yield free
    finally:
        if free:
            _mails.release()


def alone(job: Callable[[], None]) -> Callable[[], None]:
    """Have *job* end at once where it is being done in this worker already."""
    slot = _alone[job.__qualname__]

    @wraps(job)
    def done_alone() -> None:
        if slot.acquire(blocking=False):
            try:
                job()
            finally:
                slot.release()

    return done_alone
