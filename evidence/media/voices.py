"""Turn a voice note of any kind into mono AAC at an even loudness, without metadata."""

from pathlib import Path
from typing import BinaryIO

import av
from av.audio.frame import AudioFrame
from av.container import InputContainer

from evidence.media.boxes import blank_user_data
from evidence.media.containers import (
    check_declared_length,
    check_length,
    decoded,
    open_container,
    sound_stream,
)
from evidence.media.draft import Draft, DraftFile, RefusalError
from evidence.media.limits import Limits
from evidence.media.outcome import Kind, RefusalReason, Role, SourceFormat
from evidence.media.sound import MP4, SoundTrack

NAME = "sound.m4a"
# A child across the kitchen and an adult at the microphone come out alike: half-second windows,
# smoothed over 15, raised at most 20 times so that a silent room does not become a roar.
LEVELLER = "framelen=500:gausssize=15:maxgain=20:altboundary=1"


def clean_voice(source: BinaryIO, found: SourceFormat, turn: int, limits: Limits) -> Draft:
    """Write sound.m4a of *source* into the working directory; *turn* means nothing for a sound.

    Raises RefusalError.
    """
    with open_container(source, found) as container:
        check_declared_length(container, limits)
        return level_voice(container, limits)


def level_voice(container: InputContainer, limits: Limits) -> Draft:
    """Do as `clean_voice` for a container already open."""
    sound = sound_stream(container)
    if sound is None:
        raise RefusalError(RefusalReason.UNREADABLE, "neither picture nor sound")
    with av.open(NAME, "w", format="mp4", options=MP4) as out:
        track = SoundTrack(out, "mono", LEVELLER)
        for frame in decoded(container, sound):
            check_length(max(frame.time or 0.0, track.seconds), limits)
            if isinstance(frame, AudioFrame):
                out.mux(track.encode(frame))
        out.mux(track.end())
    if track.samples == 0:
        raise RefusalError(RefusalReason.UNREADABLE, "no sound could be decoded")
    blank_user_data(Path(NAME))
    return Draft(Kind.VOICE, (DraftFile(Role.SOUND, NAME),), seconds=round(track.seconds, 2))
