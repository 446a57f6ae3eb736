"""Making a backup while the portal runs, so that every row in it has its file."""

import datetime as dt
import platform
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

import django
from django.conf import settings
from django.db import connection
from django.utils import timezone

from portal.operations import clock, erasure_list
from portal.operations.backup.finished import Backup, BackupError, Kept, Manifest, Part
from portal.operations.backup.repository import BackupRepository
from portal.operations.backup.sealing import DamagedError, seal
from portal.operations.backup.snapshots import (
    ASIDE,
    check_copy,
    copy_to,
    count_rows,
    migrations_done,
    one_moment,
)
from portal.operations.hooks import StoredFile, stored_files
from portal.operations.models import Mark

# Deleted is gone from all backups after this long.
OLDEST = dt.timedelta(days=35)
SECRET = "secret-key"  # noqa: S105  (the name of a file)
# Keys that lie beside the data: the portal's own, and the one push services know it by.
KEYS = (SECRET, "push-key.pem")
ERASURES = "erasures"
FEW, MOST_ROUNDS = 5, 6  # files that came during a round; rounds, however many still come


@dataclass
class BackingUp:
    """One backup in the making."""

    repository: BackupRepository
    say: Callable[[str], None]
    files: dict[str, Kept] = field(default_factory=dict)
    not_there: set[str] = field(default_factory=set)
    lost: list[str] = field(default_factory=list)

    def run(self, keep: int) -> Backup:
        """Make the backup, and drop older ones than the newest *keep*. Raises BackupError, OSError.

        Files first, while nobody waits, and again those that came meanwhile; then the database.
        """
        self.repository.read_anew()
        self.take_files()
        making = self.repository.making()
        manifest = self.take_database(making)
        backup = self.repository.finish(making, manifest, self.files.values())
        Mark.make(Mark.Name.BACKUP, manifest.taken_at)
        self.say(
            f"{backup.folder}: {sum(manifest.rows.values())} rows in {len(manifest.rows)} tables, "
            f"{manifest.files} files of {manifest.bytes} bytes."
        )
        for name in self.lost:
            self.say(f"{name} is gone or damaged, and no earlier backup has it.")
        for where in self.repository.damaged:
            self.say(f"{where} of earlier backups is damaged, and the portal has it no more.")
        self.prune(keep)
        return backup

    def take_files(self) -> None:
        """Take all files, and again what came meanwhile, until that is little.

        Whoever writes to the database waits while the last are taken.
        """
        for _again in range(MOST_ROUNDS):
            before = len(self.files)
            self.not_there = {file.name for file in stored_files() if not self.take(file)}
            if len(self.files) - before <= FEW:
                break

    def take(self, file: StoredFile) -> bool:
        """Put *file* into the repository, and tell whether its right bytes are there."""
        if file.name not in self.files:
            try:
                kept = self.repository.keep(file)
            except (FileNotFoundError, DamagedError):
                return False
            self.files[file.name] = kept
        return True

    def take_database(self, making: Path) -> Manifest:
        """Take a snapshot all of whose files are in the repository, and say what it is."""
        # Beside the database itself: what is to be sealed never lies open in the repository.
        database = settings.DATA_DIR / "snapshot"
        database.unlink(missing_ok=True)
        taken_at = (
            timezone.now()
        )  # Not after the moment: what is erased since then is erased again.
        try:
            with one_moment(while_quiet=self.take_last_files):
                rows, migrations = count_rows(ASIDE), migrations_done(ASIDE)
                named = {file.name for file in stored_files(ASIDE)}
                copy_to(database)
            check_copy(database)
            parts = self.take_parts(making, database)
        finally:
            database.unlink(missing_ok=True)
        self.files = {name: kept for name, kept in self.files.items() if name in named}
        return Manifest(
            taken_at=taken_at,
            database=connection.vendor,
            sealed=bool(self.repository.recipients),
            rows=rows,
            migrations=migrations,
            versions={"django": django.__version__, "python": platform.python_version()},
            files=len(self.files),
            bytes=sum(kept.size for kept in self.files.values()),
            parts=parts,
            missing=self.lost,
        )

    def take_last_files(self) -> None:
        """Take the few files that came since the others were, and see which cannot be had.

        Nobody writes meanwhile, so those that could not be had a moment ago are not read again.
        """
        self.lost = [
            file.name
            for file in stored_files(ASIDE)
            if file.name in self.not_there or not self.take(file)
        ]

    def take_parts(self, making: Path, database: Path) -> dict[str, Part]:
        """Put the database into the backup, with the list of erasures and the keys.

        The keys only where it is sealed: with secret key and database together, one could make
        the links by which staff set a password.
        """
        parts = {"database": self.take_part(making, "database", database)}
        self.unite_erasures()
        if erasure_list.path().exists():
            parts[ERASURES] = self.take_part(making, ERASURES, erasure_list.path())
        here = [name for name in KEYS if (settings.DATA_DIR / name).exists()]
        if self.repository.recipients:
            parts |= {name: self.take_part(making, name, settings.DATA_DIR / name) for name in here}
        elif here:
            self.say("Not sealed, so without the secret key: mails' links would have to be new.")
        return parts

    def unite_erasures(self) -> None:
        """Have this machine's list of erasures hold what the others of this portal erased."""
        try:
            erasure_list.merge()
        except ValueError as error:
            self.say(f"{error}: put it right, or what other machines erased is not in this backup.")

    def take_part(self, making: Path, name: str, source: Path) -> Part:
        """Copy one of the backup's own files, sealed where the backup is."""
        kept = f"{name}.age" if self.repository.recipients else name
        with source.open("rb") as file:
            copied = seal(file, making / kept, self.repository.recipients)
        return Part(copied.sha256, copied.size, kept, copied.kept_sha256)

    def prune(self, keep: int) -> None:
        """Drop the backups that are too many or too old, and say so; none by a clock in doubt."""
        if not clock.note():
            self.say(
                f"Nothing was dropped. {clock.doubt()} Of the backups, delete by hand those that "
                "bear a date which is still to come."
            )
            return
        try:
            gone = self.repository.prune(keep, timezone.now() - OLDEST)
        except BackupError as error:
            self.say(f"Nothing was dropped: {error}")
        else:
            self.say(f"{len(self.repository.backups())} backups kept, {gone} dropped.")
