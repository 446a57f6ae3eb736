"""Making a spoken reply ready to be heard: in a job, from the database alone."""

import logging

from assessment.models import VoiceReply
from evidence.media import Cleaned, CrashedError, Kind, RefusalReason, Refused, Role, clean
from evidence.models import Submission
from evidence.storage import store
from evidence.storage.orphans import drop_unnamed
from portal.jobs.lease import renewed

log = logging.getLogger(__name__)
AT_ONCE = 100  # replies that one sweep drops; the next one comes soon


def make_next_ready() -> bool:
    """Make the next reply ready; False when none is waiting."""
    reply_id = VoiceReply.objects.unfinished().values_list("pk", flat=True).first()
    if reply_id is None:
        return False
    make_ready(reply_id)
    return True


def make_ready(reply_id: int) -> None:
    """Make the clean copy of one reply. Called twice, the second finds nothing to take.

    Whatever goes wrong that is no verdict of the decoder costs the reply nothing.
    """
    reply = VoiceReply.objects.claim(reply_id)
    if reply is None:
        return
    recording = store.path_of(reply.name)
    try:
        if not recording.is_file():
            recording.parents[1].stat()  # A disk that is not mounted has no file at all.
            log.error("the recording of voice reply %d is gone", reply_id)
            refuse(reply, RefusalReason.UNREADABLE)
            return
        with renewed(reply), store.workplace(f"voice-{reply.pk}", reply.attempts) as place:
            outcome = clean(recording, place)
            if isinstance(outcome, Cleaned) and outcome.kind == Kind.VOICE:
                finish(reply, outcome)
            else:
                refuse(reply, reason_of(outcome))
    except CrashedError as crash:
        log.exception("the decoder of voice reply %d crashed", reply_id)
        if VoiceReply.objects.note_crash(reply):
            refuse(reply, crash.reason)
    except Exception:
        log.exception("voice reply %d waits for a better moment", reply_id)
        VoiceReply.objects.give_back(reply)


def reason_of(outcome: Cleaned | Refused) -> RefusalReason:
    """Say why *outcome* is no voice that can be heard: a picture is none."""
    return outcome.reason if isinstance(outcome, Refused) else RefusalReason.UNKNOWN_KIND


def finish(reply: VoiceReply, cleaned: Cleaned) -> None:
    """Let *reply* be heard, and drop the recording: both, or neither. Raises OSError."""
    sound = cleaned.output(Role.SOUND)
    name = ""
    try:
        name = store.adopt(sound.path, sound.sha256)
        heard = VoiceReply.objects.held(reply).update(
            state=VoiceReply.State.READY,
            name=name,
            media_type=sound.media_type,
            sha256=sound.sha256,
            size=sound.bytes,
            seconds=cleaned.seconds,
            leased_until=None,
        )
        if heard:  # The home may have read the words already; the voice is new to it.
            Submission.objects.filter(pk=reply.submission_id).update(said_at=reply.spoken_at)
    finally:
        drop_unnamed([name, reply.name])


def refuse(reply: VoiceReply, reason: RefusalReason) -> None:
    """Tell whoever spoke that *reply* cannot be used. Its file goes a day after it is replaced."""
    VoiceReply.objects.held(reply).update(
        state=VoiceReply.State.REFUSED, refusal=reason.value, leased_until=None
    )


def drop_old() -> None:
    """Delete the replies that can no longer be put back, and their files."""
    old = list(VoiceReply.objects.kept_no_longer()[:AT_ONCE])
    VoiceReply.objects.kept_no_longer().filter(pk__in=[reply.pk for reply in old]).delete()
    drop_unnamed([reply.name for reply in old])
