"""A file that grows by appending, in the hands of one writer at a time, on whatever process.

The writer holds an flock(2), which ends with the writer, however that ends. Whoever wants the file
next leaves a note beside it, and the writer stops when it sees the note.
"""

import errno
import fcntl
import hashlib
import os
import secrets
import shutil
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from django.conf import settings

from evidence.storage import store

AREA = "partial"
NAME_LETTERS = 40
BLOCK = 1 << 18  # bytes
GIVE_WAY_WITHIN = 4.5  # seconds; whoever asks is answered within five
LOOK_EVERY = 0.05
NO_LINKS = {errno.EPERM, errno.EOPNOTSUPP, errno.EMLINK}


class BusyError(Exception):
    """Somebody else writes the file, and did not stop when asked to."""


def begin() -> str:
    """Make an empty file that outlives a power cut, and give its name. Raises OSError."""
    place = store.folder(AREA)
    name = secrets.token_hex(NAME_LETTERS // 2)
    os.close(os.open(place / name, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600))
    store.sync_folder(place)
    return name


def path_of(name: str) -> Path:
    """Return where the file *name* is."""
    return Path(settings.MEDIA_ROOT) / AREA / name


def note_beside(name: str) -> Path:
    """Return where that *name* is wanted is written."""
    return path_of(f"{name}.wanted")


def is_wanted(name: str) -> bool:
    """Whether somebody waits for the file *name*."""
    return note_beside(name).exists()


def free_bytes() -> int:
    """Return how many bytes the disk of the store has left."""
    return shutil.disk_usage(store.folder(AREA)).free


@contextmanager
def held(name: str, patience: float = GIVE_WAY_WITHIN) -> Iterator["PartialFile"]:
    """Lend the file *name* to one writer, having asked the one before to stop.

    Raises BusyError after so many seconds of *patience*, and FileNotFoundError.
    """
    if not name:
        raise FileNotFoundError("the upload has no file any more")
    handle = os.open(path_of(name), os.O_RDWR)
    try:
        take(handle, name, time.monotonic() + patience)
        note_beside(name).unlink(missing_ok=True)
        yield PartialFile(handle, name)
    finally:
        os.close(handle)


def take(handle: int, name: str, deadline: float) -> None:
    """Lock the open file, asking its holder to stop until the *deadline*. Raises BusyError."""
    while True:
        try:
            return fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError as error:
            if time.monotonic() > deadline:
                raise BusyError from error
        # Written again each time: another waiter who gets in first takes the note away.
        note_beside(name).touch(mode=0o600)
        time.sleep(LOOK_EVERY)


def remove(name: str) -> None:
    """Delete the file *name* and what stands beside it; one that is not there is no error."""
    path_of(name).unlink(missing_ok=True)
    note_beside(name).unlink(missing_ok=True)


def twin(source: Path, area: str = store.ORIGINALS) -> str:
    """Return *source*, which is on the disk, a second name in *area* of the store, and that name.

    The bytes are shared where the file system can do that. Raises OSError with no name left.
    """
    name = store.new_name(area)
    path = store.folder(*name.split("/")[:2]) / name.split("/")[2]
    try:
        try:
            path.hardlink_to(source)
        except OSError as error:
            if error.errno not in NO_LINKS:
                raise
            copy_to_disk(source, path)
        store.sync_folder(path.parent)
    except OSError:
        path.unlink(missing_ok=True)
        raise
    return name


def copy_to_disk(source: Path, path: Path) -> None:
    """Copy *source* to *path*, and wait until it is on the disk. Raises OSError."""
    with source.open("rb") as old, path.open("xb") as new:
        os.fchmod(new.fileno(), 0o600)
        shutil.copyfileobj(old, new, BLOCK)
        new.flush()
        os.fsync(new.fileno())


class PartialFile:
    """The open file, for as long as it is held."""

    def __init__(self, handle: int, name: str) -> None:
        self.handle = handle
        self.name = name
        self.is_sound = True

    @property
    def path(self) -> Path:
        """Return where it is."""
        return path_of(self.name)

    @property
    def size(self) -> int:
        """Return how many bytes it has, promised to anybody or not."""
        return os.fstat(self.handle).st_size

    def cut_to(self, size: int) -> None:
        """Forget what comes after the first *size* bytes, and go on from there."""
        os.ftruncate(self.handle, size)
        os.lseek(self.handle, size, os.SEEK_SET)

    def write(self, data: bytes) -> None:
        """Append all of *data*. Raises OSError, with perhaps a part of it written."""
        left = memoryview(data)
        while left:
            left = left[os.write(self.handle, left) :]

    def settle(self) -> None:
        """Wait until all of it is on the disk. Raises OSError; then nothing new may be promised.

        Once that failed it fails for good: a second fsync would report success for pages that
        were dropped (Rebello et al., USENIX ATC 2020).
        """
        if not self.is_sound:
            raise OSError(errno.EIO, "an earlier fsync failed")
        try:
            os.fsync(self.handle)
        except OSError:
            self.is_sound = False
            raise

    def head(self, length: int) -> bytes:
        """Return the first *length* bytes, or as many as there are."""
        return os.pread(self.handle, length, 0)

    def sha256(self) -> str:
        """Return the SHA-256 of all of it, in hexadecimal."""
        with self.path.open("rb") as file:
            return hashlib.file_digest(file, "sha256").hexdigest()
