"""Spoken replies: taking a recording in, taking it back, putting it back."""

import logging

from django.db import DatabaseError, transaction
from django.utils import timezone

from assessment.jobs import have_voices_worked_on
from assessment.models import VoiceReply
from evidence.models import Submission
from evidence.storage.orphans import drop_unnamed
from evidence.uploads.upload_handler import ArrivedFile
from portal.people.models import User

log = logging.getLogger(__name__)


class NotKeptError(Exception):
    """The recording could not be saved, for a reason that is ours: try again soon."""


def keep_recording(submission: Submission, user: User, file: ArrivedFile) -> VoiceReply:
    """Keep *file* as what *user* says about *submission*, in place of what was said before.

    On return it outlives a power cut. Raises NotKeptError, with nothing left half done, and
    Submission.DoesNotExist where the family has taken the work back.
    """
    name = ""
    try:
        name = file.keep()
        with transaction.atomic():
            locked = Submission.objects.select_for_update().active().get(pk=submission.pk)
            locked.voice_replies.active().update(taken_back_at=timezone.now())
            reply = VoiceReply.objects.create(
                submission=locked, spoken_by=user, name=name, sha256=file.sha256, size=file.size
            )
            transaction.on_commit(have_voices_worked_on, robust=True)
    except (OSError, DatabaseError) as error:
        log.exception("a spoken reply could not be saved")
        raise NotKeptError from error
    finally:
        drop_unnamed([name])
    return reply


def take_back(reply: VoiceReply) -> None:
    """Stop *reply* from being heard; for a day it can be put back."""
    VoiceReply.objects.filter(pk=reply.pk).active().update(taken_back_at=timezone.now())


@transaction.atomic
def put_back(reply: VoiceReply) -> bool:
    """Let *reply* be heard again, unless another stands by now or it is too late."""
    locked = Submission.objects.select_for_update().active().filter(pk=reply.submission_id).first()
    if locked is None or not reply.can_be_put_back or locked.voice_replies.active().exists():
        return False
    VoiceReply.objects.filter(pk=reply.pk).update(taken_back_at=None)
    return True
