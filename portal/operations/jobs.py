"""The job by which one sees that beat, broker and worker are alive."""

from celery import shared_task

from portal.operations import clock
from portal.operations.models import Mark


@shared_task
def tick() -> None:
    """Note that a job which the beat sent has been done, and how late it is."""
    Mark.make(Mark.Name.TICK)
    clock.note()
