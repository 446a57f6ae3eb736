"""Jobs of the week's end. Each may run twice, or twice at once, with the same result."""

from celery import shared_task

from assessment.mails import send_waiting
from assessment.summaries import make_due_now


@shared_task
def make_due_summaries() -> None:
    """Roll up the weeks that are due, and hand their mails over."""
    if make_due_now():
        send_waiting()


@shared_task
def send_waiting_mails() -> None:
    """Send the mails that wait."""
    send_waiting()
