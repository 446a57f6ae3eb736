"""Making a spoken reply ready to be heard: in a job, from the database alone."""

import datetime as dt
import logging

from django.utils import timezone

from assessment.models import VoiceReply
from evidence import store
from evidence.media import (
    Cleaned,
    CrashedError,
    Kind,
    RefusalReason,
    Refused,
    Role,
    TryLaterError,
    clean,
)
from evidence.orphans import drop_unnamed

log = logging.getLogger(__name__)
TRY_AGAIN_IN = dt.timedelta(minutes=1)
SOON = dt.timedelta(seconds=10)
AT_ONCE = 100  # replies that one sweep deals with; the next one comes soon


def make_ready(reply_id: int) -> None:
    """Make the clean copy of one reply. Called twice, the second finds nothing to take."""
    reply = VoiceReply.objects.claim(reply_id)
    if reply is None:
        return
    recording = store.path_of(reply.name)
    if not recording.is_file():
        log.error("the recording of voice reply %d is gone", reply_id)
        refuse(reply, RefusalReason.UNREADABLE)
        return
    try:
        with store.workplace(f"voice-{reply.pk}", reply.attempts) as place:
            outcome = clean(recording, place)
            if isinstance(outcome, Cleaned) and outcome.kind == Kind.VOICE:
                finish(reply, outcome)
            else:
                refuse(reply, reason_of(outcome))
    except CrashedError:
        log.exception("the decoder of voice reply %d crashed", reply_id)
        let_go(reply)
    except (TryLaterError, OSError):
        log.exception("voice reply %d waits for a better moment", reply_id)
        give_back(reply)


def reason_of(outcome: Cleaned | Refused) -> RefusalReason:
    """Say why *outcome* is no voice that can be heard: a picture is none."""
    return outcome.reason if isinstance(outcome, Refused) else RefusalReason.UNKNOWN_KIND


def finish(reply: VoiceReply, cleaned: Cleaned) -> None:
    """Let *reply* be heard, and drop the recording: both, or neither. Raises OSError."""
    sound = cleaned.output(Role.SOUND)
    name = ""
    try:
        name = store.adopt(sound.path, sound.sha256)
        VoiceReply.objects.held(reply).update(
            state=VoiceReply.State.READY,
            name=name,
            media_type=sound.media_type,
            sha256=sound.sha256,
            size=sound.bytes,
            seconds=cleaned.seconds,
            leased_until=None,
        )
    finally:
        drop_unnamed([name, reply.name])


def refuse(reply: VoiceReply, reason: RefusalReason) -> None:
    """Tell whoever spoke that *reply* cannot be used. Its file goes a day after it is replaced."""
    VoiceReply.objects.held(reply).update(
        state=VoiceReply.State.REFUSED, refusal=reason.value, leased_until=None
    )


def let_go(reply: VoiceReply) -> None:
    """Have *reply* tried again soon; this attempt counts, so that it cannot go on for ever."""
    VoiceReply.objects.held(reply).update(leased_until=timezone.now() + SOON)


def give_back(reply: VoiceReply) -> None:
    """Have *reply* tried again in a while, as if this attempt had not been."""
    VoiceReply.objects.held(reply).update(
        leased_until=timezone.now() + TRY_AGAIN_IN, attempts=reply.attempts - 1
    )


def give_up() -> None:
    """Refuse the replies that ended their worker every time."""
    for reply in VoiceReply.objects.given_up()[:AT_ONCE]:
        log.error("voice reply %d is given up after %d attempts", reply.pk, reply.attempts)
        VoiceReply.objects.given_up().filter(pk=reply.pk).update(
            state=VoiceReply.State.REFUSED, refusal=RefusalReason.UNREADABLE.value
        )


def drop_old() -> None:
    """Lose the replies that can be put back no more, and their files."""
    old = list(VoiceReply.objects.kept_no_longer()[:AT_ONCE])
    VoiceReply.objects.kept_no_longer().filter(pk__in=[reply.pk for reply in old]).delete()
    drop_unnamed([reply.name for reply in old])
