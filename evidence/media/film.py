"""Write the clean copy of a clip: H.264 and AAC in an MP4 whose index comes first."""

from collections.abc import Sequence
from fractions import Fraction
from pathlib import Path
from typing import cast

import av
from av.audio.frame import AudioFrame
from av.audio.stream import AudioStream
from av.bitstream import BitStreamFilterContext
from av.filter import Graph
from av.packet import Packet
from av.video.format import VideoFormat
from av.video.frame import VideoFrame
from av.video.reformatter import ColorRange, VideoReformatter
from av.video.stream import VideoStream
from PIL import Image

from evidence.media.boxes import blank_user_data
from evidence.media.limits import Limits
from evidence.media.sound import MP4, SoundTrack, layout_of

CLOCK = Fraction(1, 90_000)  # fine enough for any frame rate, steady or not
FRAMES_A_SECOND = 30
TOO_SOON = 0.01  # unsteady cameras come a little early; twice the rate comes 0.017 s early
# Two threads on every machine: the number of threads changes the bytes x264 writes.
ENCODER = {
    "preset": "veryfast",
    "crf": "23",
    "maxrate": "3M",
    "bufsize": "6M",
    "profile": "high",
    "threads": "2",
}
# Supplemental information is where the encoder signs its work, and where a camera puts captions.
NO_SEI = "filter_units=remove_types=6"


class Film:
    """An MP4 being written. Pictures come in upright, small, and at most 30 a second."""

    def __init__(
        self,
        name: str,
        source: VideoStream,
        first: VideoFrame,
        sound: AudioStream | None,
        turn: int,
        limits: Limits,
    ) -> None:
        """Open *name*; *first* tells size and rotation, *turn* adds degrees clockwise."""
        clockwise = (turn - round(first.rotation / 90) * 90) % 360
        self.scaled = small_size(first, source.sample_aspect_ratio, limits)
        self.width, self.height = self.scaled if clockwise % 180 == 0 else self.scaled[::-1]
        # One for all pictures: it starts two threads, and the scaler it builds fits them all.
        self.scaler = VideoReformatter()
        self.turner = turning_graph(self.scaled, clockwise)
        self.due = 0.0
        self.last_pts = -1
        self.poster: VideoFrame | None = None
        self.path = Path(name)
        self.out = av.open(name, "w", format="mp4", options=MP4)
        self.video = self._video_stream(source)
        self.track = None if sound is None else SoundTrack(self.out, layout_of(sound))
        self.out.start_encoding()
        self.strip = BitStreamFilterContext(NO_SEI, self.video)

    def _video_stream(self, source: VideoStream) -> VideoStream:
        stream = self.out.add_stream("libx264", rate=FRAMES_A_SECOND, options=ENCODER)
        stream.width, stream.height, stream.pix_fmt = self.width, self.height, "yuv420p"
        context, given = stream.codec_context, source.codec_context
        context.time_base = CLOCK
        context.gop_size = 2 * FRAMES_A_SECOND
        context.color_primaries, context.color_trc = given.color_primaries, given.color_trc
        context.colorspace = given.colorspace
        context.color_range = ColorRange.MPEG
        return stream

    def _write(self, packets: "Sequence[Packet[VideoStream] | None]") -> None:
        for packet in packets:
            for part in self.strip.filter(packet):
                part.stream = self.video
                self.out.mux(part)

    def add_picture(self, frame: VideoFrame, seconds: float, *, poster: bool) -> None:
        """Add *frame*, shown from *seconds* on; left out when it follows too soon on another.

        poster: take this picture as the poster if none was taken yet.
        """
        pts = round(seconds / CLOCK)
        if seconds < self.due - TOO_SOON or pts <= self.last_pts:
            return
        self.due = max(self.due, seconds - TOO_SOON) + 1 / FRAMES_A_SECOND
        self.last_pts = pts
        picture = self._upright(frame)
        picture.pts, picture.time_base = pts, CLOCK
        if poster and self.poster is None:
            self.poster = picture
        self.last = picture
        self._write(self.video.encode(picture))

    def _upright(self, frame: VideoFrame) -> VideoFrame:
        width, height = self.scaled
        small = self.scaler.reformat(
            frame, width, height, "yuv420p", interpolation="AREA", dst_color_range="MPEG"
        )
        if self.turner is None:
            return small
        self.turner.vpush(small)
        return self.turner.vpull()

    def add_sound(self, frame: AudioFrame, start: float) -> None:
        """Add the sound of *frame*; *start* is the second at which the clip's own clock begins."""
        if self.track is not None:
            self.out.mux(self.track.encode(frame, start))

    def close(self) -> None:
        """Write what the encoders still hold, and the index."""
        if self.track is not None:
            self.out.mux(self.track.end())
        self._write([*self.video.encode(None), None])
        self.out.close()
        blank_user_data(self.path)

    def poster_image(self) -> Image.Image:
        """Return the poster, the last picture where the clip ended before one was taken."""
        picture = (self.poster or self.last).to_image()  # type: ignore[no-untyped-call]
        return cast(Image.Image, picture)


def small_size(frame: VideoFrame, pixel_shape: Fraction | None, limits: Limits) -> tuple[int, int]:
    """Return even width and height within the clip's limits, square pixels, never enlarged.

    pixel_shape: width over height of one pixel, None or 0 when square.
    """
    width, height = Fraction(frame.width), Fraction(frame.height)
    if pixel_shape:
        width *= pixel_shape
    scale = min(
        Fraction(1),
        limits.clip_long_side / max(width, height),
        limits.clip_short_side / min(width, height),
    )
    return max(2, round(width * scale / 2) * 2), max(2, round(height * scale / 2) * 2)


def turning_graph(size: tuple[int, int], clockwise: int) -> Graph | None:
    """Build what turns frames of *size* by 90, 180 or 270 degrees; None for 0."""
    steps: dict[int, list[tuple[str, str | None]]] = {
        90: [("transpose", "1")],
        180: [("hflip", None), ("vflip", None)],
        270: [("transpose", "2")],
    }
    if clockwise not in steps:
        return None
    graph = Graph()
    shape = VideoFormat("yuv420p", *size)
    nodes = [graph.add_buffer(width=size[0], height=size[1], format=shape, time_base=CLOCK)]
    nodes += [graph.add(name, args) for name, args in steps[clockwise]]
    graph.link_nodes(*nodes, graph.add("buffersink")).configure()
    return graph
