"""One finished backup: what it says of itself, and whether it is still what was written."""

import datetime as dt
import hashlib
import json
from collections.abc import Iterator
from dataclasses import asdict, dataclass, field
from pathlib import Path
from typing import Self

from portal.operations.backup.sealing import sha256_of

STAMP = "%Y-%m-%dT%H%M%SZ"
SUMS, MANIFEST, FILES, HEALED = "SHA256SUMS", "manifest.json", "files.jsonl", "healed.jsonl"
FORMAT = 1


class BackupError(Exception):
    """A backup cannot be made or used; the message says why, and what to do."""


@dataclass(frozen=True)
class Kept:
    """One file of the store as it lies in the repository: `kept` is its path below that."""

    name: str
    sha256: str
    size: int
    kept: str
    kept_sha256: str


@dataclass(frozen=True)
class Part:
    """One of a backup's own files: its content's SHA-256 and size; sealed or not."""

    sha256: str
    size: int
    kept: str
    kept_sha256: str


@dataclass(frozen=True)
class Manifest:
    """What a backup is: when it was taken, of which database, how much is in it."""

    taken_at: dt.datetime
    database: str
    sealed: bool
    rows: dict[str, int]
    migrations: list[str]
    versions: dict[str, str]
    files: int
    bytes: int
    parts: dict[str, Part]
    missing: list[str] = field(default_factory=list)
    format: int = FORMAT

    def to_json(self) -> str:
        """Write it down."""
        return json.dumps(asdict(self) | {"taken_at": self.taken_at.isoformat()}, indent=1)

    @classmethod
    def from_json(cls, text: str) -> Self:
        """Read it back. Raises BackupError."""
        try:
            manifest = json.loads(text)
            if manifest["format"] != FORMAT:
                raise BackupError("The backup was made by a newer portal. Update this one first.")
            parts = {name: Part(**part) for name, part in manifest["parts"].items()}
            taken_at = dt.datetime.fromisoformat(manifest["taken_at"])
            return cls(**manifest | {"parts": parts, "taken_at": taken_at})
        except (KeyError, TypeError, ValueError) as error:
            raise BackupError(f"{MANIFEST} cannot be read.") from error


@dataclass(frozen=True)
class Fault:
    """What is wrong with one file of a backup: its path below the repository, and a sentence."""

    where: str
    words: str


@dataclass(frozen=True)
class Backup:
    """One finished backup."""

    folder: Path

    @property
    def repository(self) -> Path:
        """Return the folder of all backups."""
        return self.folder.parent

    @property
    def manifest(self) -> Manifest:
        """Read the manifest. Raises BackupError."""
        return Manifest.from_json(self.text(MANIFEST))

    @property
    def taken_at(self) -> dt.datetime:
        """Return when it was taken, by its folder's name."""
        return dt.datetime.strptime(self.folder.name, STAMP).replace(tzinfo=dt.UTC)

    def files(self) -> list[Kept]:
        """List the files of the store that belong to it. Raises BackupError.

        A list that was cut short is none: what it no longer speaks of would be dropped.
        """
        text = self.text(FILES)
        if hashlib.sha256(text.encode()).hexdigest() != self.sums().get(FILES):
            raise BackupError(f"{FILES} is damaged: it is not the list that was written.")
        try:
            return [Kept(**json.loads(line)) for line in text.splitlines()]
        except (TypeError, ValueError) as error:
            raise BackupError(f"{FILES} cannot be read.") from error

    def text(self, name: str) -> str:
        """Read one of the files that are not sealed. Raises BackupError."""
        try:
            return (self.folder / name).read_text(encoding="utf-8")
        except (OSError, UnicodeDecodeError) as error:
            raise BackupError(f"{self.folder.name}/{name} cannot be read.") from error

    def sums(self) -> dict[str, str]:
        """Return the SHA-256 of each of its own files. Raises BackupError."""
        try:
            lines = [line.split("  ", 1) for line in self.text(SUMS).splitlines()]
            return {name: sha256 for sha256, name in lines}
        except ValueError as error:
            raise BackupError(f"{SUMS} cannot be read.") from error

    def faults(self) -> Iterator[Fault]:
        """Yield each file that is not there or not as it was written."""
        own = self.folder.name
        try:
            wanted = {f"{own}/{name}": {sha256} for name, sha256 in self.sums().items()}
            wanted |= {file.kept: {file.kept_sha256} for file in self.files()}
        except BackupError as error:
            yield Fault(own, f"{own} is damaged: {error}")
            return
        for where, sha256 in healed_in(self.repository).items():
            wanted.get(where, set()).add(sha256)
        for where, sums in wanted.items():
            try:
                if sha256_of(self.repository / where) not in sums:
                    words = "is damaged: its bytes are not those that were written."
                    yield Fault(where, f"{where} {words}")
            except OSError:
                yield Fault(where, f"{where} is not there or cannot be read.")


def healed_in(repository: Path) -> dict[str, str]:
    """Give the SHA-256 of each shared file that was sealed again since, by its path there.

    Sealed again, the same content is other bytes than those that earlier backups speak of.
    """
    try:
        lines = (repository / HEALED).read_text(encoding="utf-8").splitlines()
        return dict(json.loads(line) for line in lines)
    except (OSError, ValueError):
        return {}  # Those files are then damaged, for all anybody knows, and taken in again.


def list_backups(folder: Path) -> list[Backup]:
    """List the finished backups in *folder*, the oldest first."""
    return [Backup(path.parent) for path in sorted(folder.glob(f"20*T*Z/{SUMS}"))]


def find_backup(path: Path) -> Backup:
    """Return the backup at *path*, or the newest of the repository there. Raises BackupError."""
    if (path / SUMS).is_file():
        return Backup(path.resolve())
    if found := list_backups(path.resolve()):
        return found[-1]
    raise BackupError(f"There is no finished backup in {path}.")
