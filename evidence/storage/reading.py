"""A stored file that is open for reading, wherever it lies."""

import os
from collections.abc import Iterator
from pathlib import Path
from typing import Protocol

BLOCK = 1 << 16  # bytes


class StoreAwayError(OSError):
    """The store does not answer, or is not what it should be: this says nothing of any file."""


class Readable(Protocol):
    """A file of known size in bytes, read in blocks from wherever one likes."""

    size: int

    def blocks(self, first: int, length: int) -> Iterator[bytes]:
        """Yield *length* bytes from byte *first* on; fewer where the file ends. Raises OSError."""

    def close(self) -> None:
        """Let go of the file."""


class OnDisk:
    """A file of the folder."""

    def __init__(self, path: Path) -> None:
        """Open *path*. Raises FileNotFoundError, OSError."""
        self.file = path.open("rb")
        self.size = os.fstat(self.file.fileno()).st_size

    def blocks(self, first: int, length: int) -> Iterator[bytes]:
        """Yield *length* bytes from byte *first* on; fewer where the file ends. Raises OSError."""
        self.file.seek(first)
        while length and (block := self.file.read(min(BLOCK, length))):
            length -= len(block)
            yield block

    def close(self) -> None:
        """Let go of the file."""
        self.file.close()
