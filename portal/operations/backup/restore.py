"""Bringing a backup back, onto an empty folder and an empty database: never over anything.

First all is checked and copied into `restoring/` of the empty folder; a second process, whose
settings have their data there, puts the database in and right (see finishing.py); then all is
moved to where it belongs.
"""

import json
import os
import subprocess
import sys
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from pathlib import Path

import environ
from django.core.exceptions import ImproperlyConfigured
from django.db import DatabaseError

from portal.operations import erasure_list as erasures
from portal.operations.backup.finished import Backup, BackupError, Kept, Part, list_backups
from portal.operations.backup.making import ERASURES, SECRET
from portal.operations.backup.sealing import BadKeyError, Identities, sync_folder, unseal
from portal.operations.backup.snapshots import ASIDE, reached
from portal.operations.erasure_list import Erasure
from portal.operations.models import Gone

ROOT = Path(__file__).resolve().parents[3]
STAGING, UNPACKED, LEFT_OUT = "restoring", "unpacked", "left-out"


@dataclass
class Restoring:
    """One backup on its way to an empty folder."""

    backup: Backup
    target: Path
    identities: Identities | None
    say: Callable[[str], None]
    environment: dict[str, str] = field(default_factory=lambda: dict(os.environ))
    without_damaged: bool = False  # Bring the rest, and say what is missing.
    damaged: frozenset[str] = frozenset()  # Paths below the repository, found by run.
    erasures: Sequence[str] = ()  # Lists of the portal that was lost, where they are still there.

    @property
    def staging(self) -> Path:
        """Return where things are until all is well."""
        return self.target / STAGING

    def run(self) -> None:
        """Restore. Raises BackupError, BadKeyError, OSError: the target is then no portal."""
        check_empty(self.target)
        if self.without_damaged:
            self.damaged = find_damaged(self.backup, self.say)
        else:
            check_whole(self.backup, self.say)
        if self.backup.manifest.sealed and self.identities is None:
            raise BackupError("The backup is sealed: give the file of its key with --key.")
        given = [each for source in self.erasures for each in list_at(source)]
        self.staging.mkdir(mode=0o700, parents=True)
        self.unpack()
        self.bring_erasures(given)
        self.finish()
        for path in self.staging.iterdir():
            path.rename(self.target / path.name)
        self.staging.rmdir()
        sync_folder(self.target)

    def unpack(self) -> None:
        """Copy everything out of the repository, each file's bytes compared with its hash."""
        for name, part in self.backup.manifest.parts.items():
            self.bring(self.backup.folder / part.kept, self.staging / name, part)
        self.settle_secret_key()
        unpacked = self.staging / UNPACKED
        left_out = [file.name for file in self.backup.files() if file.kept in self.damaged]
        files = [file for file in self.backup.files() if file.kept not in self.damaged]
        (self.staging / LEFT_OUT).write_text(json.dumps(left_out), encoding="utf-8")
        for file in files:
            place = unpacked / file.name
            if not place.resolve().is_relative_to(unpacked.resolve()):
                raise BackupError(f"{file.name} would not lie in the folder of files.")
            place.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
            self.bring(self.backup.repository / file.kept, place, file)
        self.say(f"{len(files)} files are copied, and each is what its hash says.")

    def settle_secret_key(self) -> None:
        """Use the secret key of the backup; without one, that of the folder or a new one."""
        own = self.target / SECRET
        if (self.staging / SECRET).exists():
            self.say("The secret key is the one of the backup.")
            return
        if own.exists():
            own.rename(self.staging / SECRET)
        self.say("There is no secret key in it: under another one, links in mails sent are dead.")

    def bring_erasures(self, given: Iterable[Erasure]) -> None:
        """Unite what every backup of the repository knows to be gone with what is *given*.

        The newest backup knows most; an older one whose list cannot be read is only told of.
        """
        known: dict[Erasure, None] = {}
        backups = list_backups(self.backup.repository)
        for backup in backups:
            try:
                known |= dict.fromkeys(self.erasures_of(backup))
            except (BackupError, BadKeyError, OSError, ValueError) as error:
                if backup == backups[-1]:
                    raise
                self.say(f"What {backup.folder.name} knows to be erased cannot be read: {error}")
        lines = "".join(f"{each.to_line()}\n" for each in known | dict.fromkeys(given))
        (self.staging / ERASURES).write_text(lines, encoding="ascii")

    def erasures_of(self, backup: Backup) -> list[Erasure]:
        """Read the list of *backup*. Raises BackupError, BadKeyError, OSError, ValueError."""
        part = backup.manifest.parts.get(ERASURES)
        if part is None:
            return []
        listed = self.staging / ERASURES
        self.bring(backup.folder / part.kept, listed, part)
        return erasures.read(listed)

    def bring(self, source: Path, target: Path, expected: Part | Kept) -> None:
        """Copy one file and compare it with what was *expected* of it. Raises BackupError."""
        copied = unseal(source, target, self.identities if source.suffix == ".age" else None)
        if (copied.sha256, copied.size) != (expected.sha256, expected.size):
            raise BackupError(f"{source.name} does not hold what was backed up.")

    def finish(self) -> None:
        """Have a process that has its data in the staging folder do the rest."""
        environment = {**self.environment, "DATA_DIR": str(self.staging)}
        command = [sys.executable, str(ROOT / "manage.py"), "finish_restore"]
        ran = subprocess.run(
            [*command, str(self.backup.folder)], env=environment, check=False, text=True,
            stdout=subprocess.PIPE,
        )  # fmt: skip
        for line in ran.stdout.splitlines():
            self.say(line)
        if ran.returncode:
            raise BackupError("The database could not be brought back: see the lines above.")


def list_at(source: str) -> list[Erasure]:
    """Read the list of erasures in file *source*, or in the database of that address.

    Raises BackupError, OSError.
    """
    try:
        if "://" not in source:
            Path(source).stat()
            return erasures.read(Path(source))
        address = environ.Env.db_url_config(source)
        with reached(address.pop("NAME"), {}, **address):
            return [Erasure.of(row) for row in Gone.objects.using(ASIDE).order_by("at", "pk")]
    except (ValueError, DatabaseError, ImproperlyConfigured) as error:
        raise BackupError(f"No list of erasures can be read there: {error}") from error


def check_empty(folder: Path) -> None:
    """Raise BackupError unless *folder* is empty, or holds no more than a secret key."""
    found = {path.name for path in folder.iterdir()} if folder.exists() else set()
    if STAGING in found:
        raise BackupError(f"An earlier restore to {folder} was cut short: empty it first.")
    if found - {SECRET}:
        raise BackupError(f"{folder} is not empty. Name an empty folder.")


def find_damaged(backup: Backup, say: Callable[[str], None]) -> frozenset[str]:
    """Return the shared files that are damaged. Raises BackupError when more than those are."""
    faults = list(backup.faults())
    for fault in faults:
        say(fault.words)
    if own := [fault for fault in faults if not fault.where.startswith("files/")]:
        raise BackupError(f"Nothing can be brought back without {own[0].where}: take another one.")
    return frozenset(fault.where for fault in faults)


def check_whole(backup: Backup, say: Callable[[str], None]) -> None:
    """Compare every file of *backup* with its hash. Raises BackupError that names the damaged."""
    if faults := list(backup.faults()):
        hint = ""
        if all(fault.where.startswith("files/") for fault in faults):
            hint = "\nTo bring back the rest and be told what is missing: --without-damaged"
        said = "\n- ".join(fault.words for fault in faults)
        raise BackupError(f"The backup is not whole:\n- {said}{hint}")
    manifest = backup.manifest
    say(
        f"{backup.folder.name}: {manifest.files} files and {len(manifest.parts)} parts are just as "
        "they were written."
    )
    for name in manifest.missing:
        say(f"{name} could not be had when the backup was made, and is not in it.")
