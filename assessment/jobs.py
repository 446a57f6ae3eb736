"""What is done behind the pages. Each job may run twice, or twice at once, with the same result."""

import logging
from collections.abc import Iterable

from celery import shared_task
from kombu.exceptions import OperationalError

from assessment import voice_cleaning
from assessment.mails import send_waiting
from assessment.models import VoiceReply
from assessment.summaries import make_due_now

log = logging.getLogger(__name__)


@shared_task
def make_due_summaries() -> None:
    """Roll up the weeks that are due, and hand their mails over."""
    if make_due_now():
        send_waiting()


@shared_task
def send_waiting_mails() -> None:
    """Send the mails that wait."""
    send_waiting()


@shared_task
def prepare_voice(reply_id: int) -> None:
    """Make the clean copy of one spoken reply."""
    voice_cleaning.make_ready(reply_id)


@shared_task
def sweep_voices() -> None:
    """Send again the spoken replies that are unfinished, and lose what is kept no longer."""
    voice_cleaning.give_up()
    unfinished = VoiceReply.objects.unfinished().values_list("pk", flat=True)
    send_to_work(unfinished[: voice_cleaning.AT_ONCE])
    voice_cleaning.drop_old()


def send_to_work(reply_ids: Iterable[int]) -> None:
    """Have replies made ready. A broker that is away is no error: the sweep sends them again."""
    for reply_id in reply_ids:
        try:
            prepare_voice.apply_async((reply_id,), retry=False)
        except (OperationalError, OSError):
            log.warning("voice reply %d waits for the sweep: the broker does not answer", reply_id)
            return
