"""A folder of backups: each file of the store once, by its hash, and a folder for each backup.

files/ab/<sha256>[.age]                 shared by all backups
healed.jsonl                            which of these were sealed again, being damaged
turn                                    which part of these is read again next time
2026-11-25T134500Z/manifest.json        what this backup is
2026-11-25T134500Z/files.jsonl          which files belong to it, and where they lie
2026-11-25T134500Z/database[.age] …     the rest
2026-11-25T134500Z/SHA256SUMS           for `sha256sum --check`
making/                                 a backup that is not finished
"""

import contextlib
import datetime as dt
import fcntl
import json
import os
import shutil
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import asdict, dataclass, field
from pathlib import Path
from typing import Self

from portal.operations.backup.file_store import open_stored
from portal.operations.backup.finished import (
    FILES,
    HEALED,
    MANIFEST,
    STAMP,
    SUMS,
    Backup,
    BackupError,
    Kept,
    Manifest,
    healed_in,
    list_backups,
)
from portal.operations.backup.sealing import DamagedError, Recipients, seal, sha256_of, sync_folder
from portal.operations.hooks import StoredFile

TURNS = 14  # backups in which all of the repository is read again


@dataclass
class BackupRepository:
    """The folder that backups are written to, by one process at a time."""

    folder: Path
    recipients: Recipients = ()
    known: dict[str, str] = field(default_factory=dict)  # path below the folder: SHA-256 as kept
    damaged: dict[str, str] = field(default_factory=dict)  # the same, of what was found damaged

    @contextmanager
    def held(self) -> Iterator[Self]:
        """Keep the repository for this process alone. Raises BackupError when another has it."""
        self.folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        with (self.folder / "lock").open("a") as lock:
            try:
                fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
            except BlockingIOError as error:
                raise BackupError(f"Another backup to {self.folder} is going on.") from error
            for backup in self.backups():
                with contextlib.suppress(BackupError):  # What is damaged is only not built on.
                    self.known |= {file.kept: file.kept_sha256 for file in backup.files()}
            self.known |= healed_in(self.folder)
            yield self

    def backups(self) -> list[Backup]:
        """List the finished backups, the oldest first."""
        return list_backups(self.folder)

    def read_anew(self) -> None:
        """Read the part of the shared files whose turn it is; what is damaged is not built on.

        After TURNS backups every one has been read, however rarely they are made. One that is cut
        off may have healed nothing yet, so the turn passes on when a backup is finished.
        """
        now = self.turn()
        for kept, sha256 in list(self.known.items()):
            if turn_of(kept) == now and not is_whole(self.folder / kept, sha256):
                self.damaged[kept] = self.known.pop(kept)

    def turn(self) -> int:
        """Return which part of the shared files is read again, from 0 to TURNS - 1."""
        marker = self.folder / "turn"
        number = marker.read_text(encoding="ascii").strip() if marker.exists() else ""
        return int(number) % TURNS if number.isdecimal() else 0

    def keep(self, file: StoredFile) -> Kept:
        """See that the content of *file* is in the repository, copied from the store if it is new.

        Raises DamagedError when it is not what its row says, FileNotFoundError, OSError.
        """
        suffix = ".age" if self.recipients else ""
        kept = f"files/{file.sha256[:2]}/{file.sha256}{suffix}"
        if kept not in self.known or not (self.folder / kept).is_file():
            self.known[kept] = self.take_in(file, self.folder / kept)
            if self.damaged.pop(kept, self.known[kept]) != self.known[kept]:
                write(self.folder / HEALED, f"{json.dumps((kept, self.known[kept]))}\n", "a")
        return Kept(file.name, file.sha256, file.size, kept, self.known[kept])

    def take_in(self, file: StoredFile, target: Path) -> str:
        """Copy *file* to *target*, whole or not at all; give its SHA-256 as it is kept."""
        target.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        aside = target.with_suffix(".part")
        with open_stored(file.name) as source:
            copied = seal(source, aside, self.recipients)
        if copied.sha256 != file.sha256:
            aside.unlink()
            raise DamagedError(f"{file.name} is not, byte for byte, what was sent")
        aside.replace(target)
        return copied.kept_sha256

    def making(self) -> Path:
        """Return an empty folder for the backup that is being made."""
        folder = self.folder / "making"
        shutil.rmtree(folder, ignore_errors=True)
        folder.mkdir(mode=0o700)
        return folder

    def finish(self, making: Path, manifest: Manifest, files: Iterable[Kept]) -> Backup:
        """Make *making* a backup: all on the disk first, then its name in one step."""
        lines = (json.dumps(asdict(file)) for file in files)
        write(making / FILES, "".join(f"{line}\n" for line in lines))
        write(making / MANIFEST, manifest.to_json())
        names = sorted(path.name for path in making.iterdir())
        write(making / SUMS, "".join(f"{sha256_of(making / name)}  {name}\n" for name in names))
        for folder in (*(self.folder / "files").glob("*"), self.folder / "files", making):
            if folder.is_dir():
                sync_folder(folder)
        named = manifest.taken_at
        while (final := self.folder / named.strftime(STAMP)).exists():
            named += dt.timedelta(seconds=1)
        making.rename(final)
        write(self.folder / "turn", str((self.turn() + 1) % TURNS))
        sync_folder(self.folder)
        return Backup(final)

    def prune(self, keep: int, oldest: dt.datetime) -> int:
        """Drop backups from before *oldest* and all but the newest *keep*; give how many.

        The newest is never dropped. Files that no backup speaks of go with them. Raises
        BackupError when a backup is damaged: nobody knows then which files it speaks of.
        """
        dropping = self.folder / "dropping"
        shutil.rmtree(dropping, ignore_errors=True)
        standing = self.backups()
        old = {each for each in standing[:-1] if each.taken_at < oldest}
        gone = [each for each in standing[:-1] if each in old or each in standing[:-keep]]
        for backup in gone:
            # Renamed first: one that is half deleted must not look like a backup.
            backup.folder.rename(dropping)
            shutil.rmtree(dropping)
        spoken_of = {file.kept for backup in self.backups() for file in backup.files()}
        if healed := healed_in(self.folder):
            left = [each for each in healed.items() if each[0] in spoken_of]
            write(self.folder / HEALED, "".join(f"{json.dumps(each)}\n" for each in left))
        for path in (self.folder / "files").glob("*/*"):
            if str(path.relative_to(self.folder)) not in spoken_of:
                path.unlink()
        return len(gone)


def turn_of(kept: str) -> int:
    """Return in which turn, from 0 to TURNS - 1, the shared file *kept* is read again."""
    return int(Path(kept).name[:8], 16) % TURNS


def is_whole(path: Path, sha256: str) -> bool:
    """Whether the bytes at *path* can be read and are those that were written."""
    try:
        return sha256_of(path) == sha256
    except OSError:
        return False


def write(path: Path, text: str, mode: str = "w") -> None:
    """Write *text* to *path* and wait for the disk. Raises OSError."""
    with path.open(mode, encoding="utf-8") as file:
        os.fchmod(file.fileno(), 0o600)
        file.write(text)
        file.flush()
        os.fsync(file.fileno())
