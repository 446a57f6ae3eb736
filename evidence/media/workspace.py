"""A working directory for one run, and the way clean files leave it."""

import fcntl
import os
import tempfile
import uuid
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from itertools import islice
from pathlib import Path

PREFIX = ".cleaning-"
MOST_ENTRIES = 5_000  # removed at a time, about a second; a decoder of ours leaves four
# Nobody's users: each run has one, told by its folder, so that no two at once are the same.
# Source: "Users, Groups, UIDs and GIDs on systemd Systems" has 60578 to 61183 as unused.
USERS = range(60_600, 61_100)


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
        clear(work)
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
            clear(left)
        except BlockingIOError:
            continue
        finally:
            os.close(folder)


def clear(place: Path) -> None:
    """Remove the folder *place*, whatever a decoder has left in it; errors leave the rest there.

    Nested folders are lifted up one by one, so that no depth is too deep. What is more than
    MOST_ENTRIES waits until this is called again.
    """
    left = MOST_ENTRIES
    with suppress(OSError):
        while left > 0 and (found := entries(place, left)):
            left -= len(found)
            for path, is_folder in found:
                if is_folder:
                    left -= lift(path, place, left)
                else:
                    path.unlink()
        place.rmdir()


def lift(folder: Path, place: Path, most: int) -> int:
    """Move up to *most* entries of *folder* up into *place*, and remove it once it is empty.

    Give how many were moved. Raises OSError.
    """
    folder.chmod(0o700)
    found = entries(folder, max(1, most))
    for path, _ in found:
        path.rename(place / uuid.uuid4().hex)
    if len(found) < most:
        folder.rmdir()
    return len(found)


def entries(folder: Path, most: int) -> list[tuple[Path, bool]]:
    """Return up to *most* entries of *folder*, and whether each is a folder. Raises OSError."""
    with os.scandir(folder) as found:
        first = islice(found, most)
        return [(Path(entry), entry.is_dir(follow_symlinks=False)) for entry in first]


def give_to_a_user(work: Path) -> int | None:
    """Return *work* to a user of its own, for a decoder to be in place of root; give its number.

    None where this process is not root, or may not give folders away.
    """
    if os.geteuid() != 0:
        return None
    user = USERS[work.stat().st_ino % len(USERS)]
    try:
        os.chown(work, user, user)
    except OSError:
        return None
    return user


def move_into_place(files: list[tuple[Path, Path]]) -> None:
    """Rename each (written, final) pair so that a final name holds the whole file or nothing.

    Raises OSError when the disk will not confirm; the final names written so far are whole.
    """
    for written, _ in files:
        if os.geteuid() == 0:
            os.chown(written, os.geteuid(), os.getegid(), follow_symlinks=False)
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
