"""Turn any clip into a small upright MP4 that every phone plays, a poster and a thumbnail."""

from collections.abc import Iterator
from itertools import chain
from typing import BinaryIO

from av.audio.frame import AudioFrame
from av.audio.stream import AudioStream
from av.container import InputContainer
from av.video.frame import VideoFrame
from av.video.stream import VideoStream

from evidence.media.containers import (
    check_declared_length,
    check_length,
    decoded,
    open_container,
    picture_stream,
    sound_stream,
)
from evidence.media.draft import Draft, DraftFile, RefusalError
from evidence.media.film import FRAMES_A_SECOND, Film
from evidence.media.limits import Limits
from evidence.media.outcome import Kind, RefusalReason, Role, SourceFormat
from evidence.media.pictures import check_size, save_pair
from evidence.media.voices import level_voice

# Each thread holds frames of its own: on a machine of many cores a 4K clip would take all memory.
DECODER_THREADS = 4
POSTER_SECONDS = 1.0  # the first frames of a clip are often of the floor


def clean_clip(source: BinaryIO, found: SourceFormat, turn: int, limits: Limits) -> Draft:
    """Write clip.mp4, poster.jpg and thumb.jpg of *source* into the working directory.

    A container without a moving picture becomes a voice note (sound.m4a).
    turn: degrees clockwise on top of what the camera recorded. Raises RefusalError.
    """
    with open_container(source, found) as container:
        check_declared_length(container, limits)
        video = picture_stream(container)
        if video is None:
            return level_voice(container, limits)
        check_size(video.width, video.height, limits.clip_pixels, limits)
        return _transcode(container, video, turn, limits)


def _transcode(container: InputContainer, video: VideoStream, turn: int, limits: Limits) -> Draft:
    video.thread_type = "AUTO"
    video.codec_context.thread_count = DECODER_THREADS
    sound = sound_stream(container)
    streams: list[VideoStream | AudioStream] = [video] if sound is None else [video, sound]
    frames = decoded(container, *streams)
    early, first = _up_to_first_picture(frames)
    start = (container.start_time or 0) / 1_000_000
    film = Film("clip.mp4", video, first, sound, turn, limits)
    seconds, pictures = 0.0, 0
    for frame in chain(early, [first], frames):
        if isinstance(frame, AudioFrame):
            film.add_sound(frame, start)
        else:
            pictures += 1
            # A picture without a time follows on the last one.
            seconds = seconds + 1 / FRAMES_A_SECOND if frame.time is None else frame.time - start
            film.add_picture(frame, seconds, poster=seconds >= POSTER_SECONDS)
        check_length((frame.time or 0.0) - start, limits)
        if pictures > limits.clip_frames:
            raise RefusalError(RefusalReason.TOO_LONG, f"{pictures} pictures")
    film.close()
    clip = DraftFile(Role.CLIP, "clip.mp4", film.width, film.height)
    poster = save_pair(film.poster_image(), Role.POSTER, "poster", limits)
    return Draft(Kind.CLIP, (clip, *poster), film.width, film.height, round(seconds, 2))


def _up_to_first_picture(
    frames: Iterator[VideoFrame | AudioFrame],
) -> tuple[list[AudioFrame], VideoFrame]:
    """Take *frames* until the first picture, which alone tells how the clip is turned."""
    sounds: list[AudioFrame] = []
    for frame in frames:
        if isinstance(frame, VideoFrame):
            return sounds, frame
        if isinstance(frame, AudioFrame):
            sounds.append(frame)
    raise RefusalError(RefusalReason.UNREADABLE, "no picture could be decoded")
