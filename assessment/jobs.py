"""What is done behind the pages. Each job may run twice, or twice at once, with the same result."""

from celery import shared_task

from assessment.looks import voice_cleaning
from assessment.looks.school_mistakes import learn_all
from assessment.models import VoiceReply
from assessment.weekly.mails import send_waiting
from assessment.weekly.summaries import make_due_now
from portal.jobs.sending import send
from portal.jobs.slots import Weight, alone, work_off
from portal.operations import clock


@shared_task
@alone
def make_due_summaries() -> None:
    """Roll up the weeks that are due, and have their mails sent."""
    if make_due_now():
        send_waiting_mails()


@shared_task
@alone
def learn_mistakes() -> None:
    """Reckon how common each mistake is, school by school, from its own answers."""
    learn_all()


@shared_task
@alone
def send_waiting_mails() -> None:
    """Send the mails that wait."""
    send_waiting()


@shared_task
def work_on_voices() -> None:
    """Make the spoken replies ready that wait, if a slot is free for that."""
    work_off(Weight.PHOTOS, voice_cleaning.make_next_ready)


@shared_task
@alone
def sweep_voices() -> None:
    """Have the spoken replies worked on that wait, and lose what is kept no longer."""
    if VoiceReply.objects.unfinished().exists():
        have_voices_worked_on()
    if clock.is_plausible():
        voice_cleaning.drop_old()


def have_voices_worked_on() -> None:
    """Have the replies that wait made ready; a broker that is away is no error."""
    send(work_on_voices, weight=Weight.PHOTOS)
