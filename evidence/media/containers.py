"""Open clips and sounds so that a file can name no other file and use no other format."""

from collections.abc import Iterator
from importlib import import_module
from typing import BinaryIO

import av
from av.audio.frame import AudioFrame
from av.audio.stream import AudioStream
from av.container import InputContainer
from av.stream import Disposition
from av.video.frame import VideoFrame
from av.video.stream import VideoStream

from evidence.media.draft import RefusalError
from evidence.media.limits import Limits
from evidence.media.outcome import RefusalReason, SourceFormat

# The demuxer is named by us, so a playlist or a list of files to join is never even looked for.
DEMUXERS = {
    SourceFormat.MP4: "mov",
    SourceFormat.MOV: "mov",
    SourceFormat.THREEGP: "mov",
    SourceFormat.M4A: "mov",
    SourceFormat.WEBM: "matroska",
    SourceFormat.MP3: "mp3",
    SourceFormat.OGG: "ogg",
    SourceFormat.WAV: "wav",
}
VIDEO_CODECS = {"h264", "hevc", "vp8", "vp9"}
AUDIO_CODECS = {"aac", "mp3", "mp3float", "opus", "vorbis", "amrnb", "pcm_s16le", "pcm_u8"}
AUDIO_CODECS |= {"pcm_s24le", "pcm_s32le", "pcm_f32le", "pcm_s16be"}
OPTIONS = {"protocol_whitelist": "none", "enable_drefs": "0"}


def load(_found: SourceFormat, _source: BinaryIO) -> None:
    """Import what would be loaded only once a stream of its kind, or a poster, is met."""
    subtitles = (f"av.subtitles.{name}" for name in ("stream", "subtitle", "codeccontext"))
    for name in (*subtitles, "array", "PIL.JpegImagePlugin"):
        import_module(name)


def open_container(source: BinaryIO, found: SourceFormat) -> InputContainer:
    """Read the header of *source* as *found*. Raises RefusalError or an error of the library."""
    return av.open(source, "r", format=DEMUXERS[found], options=OPTIONS, metadata_errors="ignore")


def picture_stream(container: InputContainer) -> VideoStream | None:
    """Return the first moving picture, None where there is only sound. Cover art does not count.

    Raises RefusalError where the moving picture is of a kind we do not decode.
    """
    moving = [
        stream
        for stream in container.streams.video
        if not stream.disposition & Disposition.attached_pic
    ]
    for stream in moving:
        if stream.codec_context.codec.name in VIDEO_CODECS:
            return stream
    if moving:
        raise RefusalError(RefusalReason.UNKNOWN_KIND, f"picture as {moving[0].codec_context.name}")
    return None


def sound_stream(container: InputContainer) -> AudioStream | None:
    """Return the first sound track we decode, None when there is none."""
    for stream in container.streams.audio:
        if stream.codec_context.codec.name in AUDIO_CODECS:
            return stream
    return None


def decoded(
    container: InputContainer, *streams: VideoStream | AudioStream
) -> Iterator[VideoFrame | AudioFrame]:
    """Yield the frames of *streams* in the order of the file, passing over damaged packets.

    Raises RefusalError at the end when more than one packet in ten was damaged.
    """
    packets = damaged = 0
    for packet in container.demux(*streams):
        packets += 1
        try:
            for frame in packet.decode():
                if isinstance(frame, VideoFrame | AudioFrame):
                    yield frame
        except av.error.InvalidDataError:
            damaged += 1
    if damaged * 10 > packets:
        raise RefusalError(RefusalReason.UNREADABLE, f"{damaged} of {packets} packets damaged")


def check_declared_length(container: InputContainer, limits: Limits) -> None:
    """Refuse a file whose header says it is too long, before anything is decoded."""
    check_length((container.duration or 0) / av.time_base, limits)


def check_length(seconds: float, limits: Limits) -> None:
    """Refuse *seconds* over the limit; half a second of rounding is let pass."""
    if seconds > limits.seconds + 0.5:
        raise RefusalError(RefusalReason.TOO_LONG, f"{seconds:.0f} s")
