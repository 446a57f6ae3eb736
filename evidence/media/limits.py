"""The one table of what a file may be and what cleaning it may cost."""

from dataclasses import dataclass

from evidence.media.outcome import Kind

MB = 1_000_000
GIB = 1 << 30


@dataclass(frozen=True, slots=True)
class Allowance:
    """For one kind: bytes of the source; memory, seconds of processor and of clock for its child.

    *memory* bounds the address space (bytes), so it stands well above what is in use.
    """

    bytes: int
    memory: int
    cpu_seconds: int
    wall_seconds: int


@dataclass(frozen=True, slots=True)
class Limits:
    """All limits; every number is the largest value still accepted.

    Pixels: a 48-megapixel phone photo (8064 × 6048) passes, a 64-megapixel one does not.
    Seconds: of a clip or a voice note alike, so that one sentence can tell a family.
    Aspect: longest side over shortest; a long screenshot passes, a picture of one line does not.
    """

    photo: Allowance = Allowance(40 * MB, 1 * GIB, 30, 60)
    clip: Allowance = Allowance(600 * MB, 2 * GIB, 600, 420)
    voice: Allowance = Allowance(60 * MB, 1 * GIB, 60, 90)
    page: Allowance = Allowance(40 * MB, 1 * GIB, 40, 60)
    pixels: int = 50_000_000
    side: int = 16_000
    aspect: int = 20
    clip_pixels: int = 4096 * 2304
    seconds: int = 180
    clip_frames: int = 45_000
    pages: int = 10
    output_bytes: int = 256 * MB
    open_files: int = 64
    threads: int = 256
    display_side: int = 1600
    thumb_side: int = 320
    clip_long_side: int = 1280
    clip_short_side: int = 720

    def allowance(self, kind: Kind) -> Allowance:
        """Return the allowance of *kind*."""
        return {
            Kind.PHOTO: self.photo,
            Kind.CLIP: self.clip,
            Kind.VOICE: self.voice,
            Kind.PAGE: self.page,
        }[kind]


LIMITS = Limits()
