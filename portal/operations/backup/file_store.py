"""The app that keeps files, named in settings: read, put back and removed by name."""

import io
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path
from typing import BinaryIO, Protocol, cast

from django.conf import settings

from portal.operations.backup.sealing import digest_of
from portal.operations.hooks import StoredFile

BLOCK = 1 << 18  # bytes


class Readable(Protocol):
    """A file of known size in bytes, read in blocks."""

    size: int

    def blocks(self, first: int, length: int) -> Iterator[bytes]:
        """Yield *length* bytes from byte *first* on. Raises OSError."""

    def close(self) -> None:
        """Let go of the file."""


class FileStore(Protocol):
    """What the module named by FILE_STORE offers. A store that is away raises OSError."""

    def open_file(self, name: str) -> Readable:
        """Open *name*. Raises FileNotFoundError for what is not there, OSError."""

    def put_back(self, source: Path, name: str) -> None:
        """Store the file at *source* under the *name* that it had. Raises OSError."""

    def remove(self, names: list[str]) -> None:
        """Delete each of *names*; one that is not there is no error. Raises OSError."""


class Stream(io.RawIOBase):
    """A stored file as Python's own files are."""

    def __init__(self, file: Readable) -> None:
        self.file = file
        self.blocks = file.blocks(0, file.size)
        self.rest = memoryview(b"")

    def readable(self) -> bool:
        """Return True."""
        return True

    def readinto(self, buffer: memoryview) -> int:
        """Fill *buffer* as far as the next block reaches, and give how far."""
        self.rest = self.rest or memoryview(next(self.blocks, b""))
        count = min(len(buffer), len(self.rest))
        buffer[:count], self.rest = self.rest[:count], self.rest[count:]
        return count

    def close(self) -> None:
        """Let go of the file."""
        self.file.close()
        super().close()


def store() -> FileStore:
    """Return the store of this portal."""
    return cast(FileStore, import_module(settings.FILE_STORE))


def open_stored(name: str) -> BinaryIO:
    """Open *name* for reading from its start. Raises FileNotFoundError, OSError."""
    return cast(BinaryIO, io.BufferedReader(Stream(store().open_file(name)), BLOCK))


def is_well(file: StoredFile) -> bool:
    """Whether *file* is there, byte for byte. Raises OSError when the whole store is away."""
    try:
        with open_stored(file.name) as opened:
            return digest_of(opened) == file.sha256
    except FileNotFoundError:
        return False
    except OSError as error:
        if error.errno is None:
            raise
        return False  # A disk that cannot read this one file.
