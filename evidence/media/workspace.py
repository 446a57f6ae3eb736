"""A working directory for one run, and the way clean files leave it."""

import fcntl
import os
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

PREFIX = ".cleaning-"


@contextmanager
def workspace(out_dir: Path) -> Iterator[Path]:
    """Make an empty directory inside *out_dir* (made when missing) and remove it afterwards.

    It is locked while in use: what a killed run left behind has no lock, and is removed first.
    """
    out_dir.mkdir(parents=True, exist_ok=True)
    remove_abandoned(out_dir)
    work = Path(tempfile.mkdtemp(prefix=PREFIX, dir=out_dir))
    folder = os.open(work, os.O_RDONLY)
    try:
        fcntl.flock(folder, fcntl.LOCK_EX)
        yield work
    finally:
        shutil.rmtree(work, ignore_errors=True)
        os.close(folder)


def remove_abandoned(out_dir: Path) -> None:
    """Remove the working directories in *out_dir* whose runs have ended."""
    for left in out_dir.glob(f"{PREFIX}*"):
        try:
            folder = os.open(left, os.O_RDONLY)
        except FileNotFoundError:  # another run was quicker
            continue
        try:
            fcntl.flock(folder, fcntl.LOCK_EX | fcntl.LOCK_NB)
            shutil.rmtree(left, ignore_errors=True)
        except BlockingIOError:
            continue
        finally:
            os.close(folder)


def move_into_place(files: list[tuple[Path, Path]]) -> None:
    """Rename each (written, final) pair so that a final name holds the whole file or nothing.

    Raises OSError when the disk will not confirm; the final names written so far are whole.
    """
    for written, _ in files:
        flush(written)
    for written, final in files:
        written.replace(final)
    for folder in {final.parent for _, final in files}:
        flush(folder)
        flush(folder.parent)


def flush(path: Path) -> None:
    """Wait until the file or directory at *path* is on the disk. Raises OSError."""
    handle = os.open(path, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
