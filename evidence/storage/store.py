"""The private store: files under random names, safe on the disk before anybody is told so.

Originals lie in a folder that web servers and workers share, for the minutes until they are clean.
Renditions lie in that folder too, or in the bucket that STORAGE_URL names.
"""

import hashlib
import os
import re
import secrets
import shutil
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from django.conf import settings
from django.core.files.storage import storages

from evidence.storage.reading import OnDisk, Readable, StoreAwayError

if TYPE_CHECKING:
    from evidence.storage.bucket import Bucket

ORIGINALS, RENDITIONS = "originals", "renditions"
NAME = re.compile(rf"({ORIGINALS}|{RENDITIONS})/([0-9a-f]{{2}})/\2[0-9a-f]{{38}}")


class DamagedError(OSError):
    """A file that is not, byte for byte, what was written."""


class Incoming:
    """A file on its way in: hashed while it is written, gone again unless it is kept."""

    def __init__(self) -> None:
        """Open a new file under a random name. Raises OSError: the disk may be full."""
        self.path = folder("incoming") / secrets.token_hex(20)
        handle = os.open(self.path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600)
        self._file = os.fdopen(handle, "wb")
        self._hash = hashlib.sha256()
        self.size = 0

    @property
    def sha256(self) -> str:
        """Return the SHA-256 of what came so far, in hexadecimal."""
        return self._hash.hexdigest()

    def write(self, data: bytes) -> None:
        """Add *data* at the end. Raises OSError."""
        self._file.write(data)
        self._hash.update(data)
        self.size += len(data)

    def keep(self) -> str:
        """Make the file last through a power cut, and give its name in the store.

        Raises OSError with nothing left behind. An fsync that failed is never tried again: the
        second would report success for pages that were dropped (Rebello et al., USENIX ATC 2020).
        """
        name = new_name(ORIGINALS)
        try:
            self._file.flush()
            os.fsync(self._file.fileno())
            self._file.close()
            put(self.path, name)
        except OSError:
            self.discard()
            raise
        return name

    def discard(self) -> None:
        """Drop the file. Does nothing to one that was kept or dropped before."""
        try:
            self._file.close()
        except OSError:  # What could not be written out on a full disk is no longer wanted.
            pass
        finally:
            self.path.unlink(missing_ok=True)


def folder(*parts: str) -> Path:
    """Return a folder of the store that is there, and stays there after a power cut."""
    path = Path(settings.MEDIA_ROOT).joinpath(*parts)
    missing = [path, *path.parents]
    for each in reversed(missing[: next(i for i, one in enumerate(missing) if one.is_dir())]):
        each.mkdir(mode=0o700, exist_ok=True)
        sync_folder(each.parent)
    return path


def sync_folder(path: Path) -> None:
    """Wait until the entries of folder *path* are on the disk. Raises OSError."""
    handle = os.open(path, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def new_name(area: str) -> str:
    """Return a fresh name of 160 random bits: it says nothing, and nobody guesses it."""
    word = secrets.token_hex(20)
    return f"{area}/{word[:2]}/{word}"


def put(source: Path, name: str) -> None:
    """Move *source*, already on the disk, to *name*. Raises OSError with neither left."""
    path = folder(*name.split("/")[:2]) / name.split("/")[2]
    try:
        source.replace(path)
        sync_folder(path.parent)
    except OSError:
        source.unlink(missing_ok=True)
        path.unlink(missing_ok=True)
        raise


def adopt(source: Path, sha256: str) -> str:
    """Take a finished rendition into the store, and give its name there.

    Raises DamagedError when its bytes are not those of *sha256*; OSError.
    """
    name = new_name(RENDITIONS)
    shelve(source, name, sha256)
    return name


def shelve(source: Path, name: str, sha256: str) -> None:
    """Move the file at *source* to *name*, into the bucket where there is one.

    Raises DamagedError when its bytes are not those of *sha256*; OSError.
    """
    with source.open("rb") as file:
        if hashlib.file_digest(file, "sha256").hexdigest() != sha256:
            raise DamagedError(f"{source.name} is not what was written")
        os.fchmod(file.fileno(), 0o600)
    if bucket := bucket_of(name):
        bucket.put(source, name)
        source.unlink()
    else:
        put(source, name)


def bucket_of(name: str) -> "Bucket | None":
    """Return the bucket that holds *name*; None: it is in the folder."""
    if "renditions" in settings.STORAGES and name.startswith(f"{RENDITIONS}/"):
        return storages["renditions"]
    return None


def path_of(name: str) -> Path:
    """Give where in the folder *name* lies. Raises FileNotFoundError for no name of the store."""
    if not NAME.fullmatch(name):
        raise FileNotFoundError(f"not a name in the store: {name!r}")
    return Path(settings.MEDIA_ROOT) / name


def open_file(name: str) -> Readable:
    """Open *name* for reading. Raises FileNotFoundError, StoreAwayError, OSError."""
    path = path_of(name)
    if bucket := bucket_of(name):
        return bucket.open_stored(name)
    try:
        return OnDisk(path)
    except FileNotFoundError:
        # A disk that is not mounted has no file at all; that says nothing of this one.
        if not path.parents[1].is_dir():
            raise StoreAwayError("the folder of the store is not there") from None
        raise


def sha256_of(name: str) -> str:
    """Read *name* whole, and give its SHA-256. Raises as `open_file` does."""
    found = hashlib.sha256()
    file = open_file(name)
    try:
        for block in file.blocks(0, file.size):
            found.update(block)
    finally:
        file.close()
    return found.hexdigest()


def fetch(name: str, target: Path) -> None:
    """Copy *name* to the new file *target*. Raises as `open_file` does."""
    file = open_file(name)
    try:
        with target.open("xb") as copy:
            copy.writelines(file.blocks(0, file.size))
    finally:
        file.close()


def put_back(source: Path, name: str) -> None:
    """Store the file at *source* under the *name* that it had. Raises OSError."""
    path_of(name)
    if bucket := bucket_of(name):
        bucket.put(source, name)
        return
    aside = folder("incoming") / secrets.token_hex(20)
    shutil.copyfile(source, aside)
    with aside.open("rb") as file:
        os.fchmod(file.fileno(), 0o600)
        os.fsync(file.fileno())
    put(aside, name)


def remove(names: list[str]) -> None:
    """Delete each of *names*; one that is not there is no error. Raises OSError."""
    for name in filter(None, names):
        path = path_of(name)
        if bucket := bucket_of(name):
            bucket.remove(name)
        else:
            path.unlink(missing_ok=True)


@contextmanager
def workplace(piece: int, attempt: int) -> Iterator[Path]:
    """Lend an empty folder to one attempt at a piece; earlier attempts' folders are cleared."""
    clear_workplaces(piece)
    place = folder("work") / f"{piece}-{attempt}"
    place.mkdir(mode=0o700)
    try:
        yield place
    finally:
        shutil.rmtree(place, ignore_errors=True)


def clear_workplaces(piece: int) -> None:
    """Delete the folders of all attempts at a piece; an attempt under way is cut short."""
    for left in folder("work").glob(f"{piece}-*"):
        shutil.rmtree(left, ignore_errors=True)


def names_in(area: str, shard: int, older_than: float) -> list[str]:
    """List the names of one of the 256 shards of *area* that are older than so many seconds.

    Raises OSError.
    """
    start = f"{area}/{shard:02x}/"
    place = Path(settings.MEDIA_ROOT) / area / f"{shard:02x}"
    found: list[str] = []
    if bucket := bucket_of(start):
        found = bucket.names(start, older_than)
    elif place.is_dir():
        found = [f"{start}{entry.name}" for entry in old_entries(place, older_than)]
    return [name for name in found if NAME.fullmatch(name)]


def clear_abandoned(older_than: float) -> int:
    """Remove half-received files and workplaces older than so many seconds; give how many."""
    count = 0
    for area in ("incoming", "work"):
        for entry in old_entries(folder(area), older_than):
            if entry.is_dir():
                shutil.rmtree(entry, ignore_errors=True)
            else:
                entry.unlink(missing_ok=True)
            count += 1
    return count


def old_entries(place: Path, older_than: float) -> Iterator[Path]:
    """Yield what in *place* was last changed more than so many seconds ago."""
    limit = time.time() - older_than
    with os.scandir(place) as entries:
        for entry in entries:
            try:
                if entry.stat(follow_symlinks=False).st_mtime < limit:
                    yield Path(entry.path)
            except FileNotFoundError:
                continue
