"""An AAC track of an MP4 being written, for clips and voice notes alike."""

from fractions import Fraction

import av
from av.audio.frame import AudioFrame
from av.audio.stream import AudioStream
from av.codec.context import Flags
from av.container import OutputContainer
from av.filter import Graph
from av.packet import Packet

SAMPLE_RATE = 48_000
BITS_A_SECOND = {"mono": 64_000, "stereo": 96_000}

# No tag of who encoded it, and the index first so that playing starts while the rest still loads.
MP4 = {"movflags": "+faststart", "fflags": "+bitexact"}

# Phones leave gaps and overlaps: fill and trim them, and start at 0 together with the picture.
STEADY = f"{SAMPLE_RATE}:async=1:first_pts=0"


class SoundTrack:
    """One sound track. Decoded frames go in, packets for the container come out."""

    def __init__(self, out: OutputContainer, layout: str, leveller: str | None = None) -> None:
        """Add a track to *out*; layout: "mono" or "stereo"; leveller: settings of dynaudnorm."""
        self.stream = out.add_stream("aac", rate=SAMPLE_RATE, layout=layout)
        self.stream.bit_rate = BITS_A_SECOND[layout]
        self.stream.codec_context.flags |= Flags.bitexact
        self.layout = layout
        self.leveller = leveller
        self.graph: Graph | None = None
        self.samples = 0

    @property
    def seconds(self) -> float:
        """Return how much sound has gone to the encoder."""
        return self.samples / SAMPLE_RATE

    def encode(self, frame: AudioFrame, start: float = 0.0) -> "list[Packet[AudioStream]]":
        """Encode *frame*, whose clock began at *start* seconds."""
        if frame.pts is not None and frame.time_base:
            frame.pts -= round(Fraction(start) / frame.time_base)
        if self.graph is None:
            self.graph = self._build(frame)
        self.graph.push(frame)
        return self._drain(self.graph)

    def end(self) -> "list[Packet[AudioStream]]":
        """Encode what was held back and end the track; a track without sound ends empty."""
        packets: list[Packet[AudioStream]] = []
        if self.graph is not None:
            self.graph.push(None)
            packets = self._drain(self.graph)
        return packets + self.stream.encode(None)

    def _build(self, frame: AudioFrame) -> Graph:
        graph = Graph()
        shape = f"sample_fmts=fltp:channel_layouts={self.layout}"
        steps = [("aresample", STEADY), ("aformat", shape)]
        if self.leveller is not None:
            steps.append(("dynaudnorm", self.leveller))
        nodes = [
            graph.add_abuffer(
                sample_rate=frame.sample_rate,
                format=frame.format,
                layout=frame.layout,
                time_base=frame.time_base,
            )
        ]
        nodes += [graph.add(name, settings) for name, settings in steps]
        graph.link_nodes(*nodes, graph.add("abuffersink")).configure()
        return graph

    def _drain(self, graph: Graph) -> "list[Packet[AudioStream]]":
        packets: list[Packet[AudioStream]] = []
        while True:
            try:
                part = graph.pull()
            except (av.error.BlockingIOError, av.error.EOFError):
                return packets
            if isinstance(part, AudioFrame):
                self.samples += part.samples
                packets += self.stream.encode(part)


def layout_of(source: AudioStream) -> str:
    """Return "mono" for a source of one channel, "stereo" for any other."""
    return "mono" if source.codec_context.channels == 1 else "stereo"
