"""Copies that last, hashed on the way: as they are, or sealed to a key by the age format.

Source: the age file format, version 1 (C2SP, age.md), by the pyrage library.
"""

import hashlib
import os
import shutil
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, BinaryIO

import pyrage

BLOCK = 1 << 20
Recipients = Sequence[pyrage.x25519.Recipient]
Identities = Sequence[pyrage.x25519.Identity]


class BadKeyError(ValueError):
    """A key that cannot be read, or does not open what it should; the message says which."""


class DamagedError(ValueError):
    """A file that is not, byte for byte, what was written; the message names it."""


@dataclass(frozen=True)
class Copied:
    """What went through a copy: the content's SHA-256 and size, and the SHA-256 as it is kept."""

    sha256: str
    size: int
    kept_sha256: str


@dataclass
class Counted:
    """A file that hashes and counts what is read from it or written to it."""

    file: BinaryIO
    hash: Any = field(default_factory=hashlib.sha256)
    size: int = 0

    def note(self, data: bytes) -> bytes:
        """Take *data* into the hash, and give it back."""
        self.hash.update(data)
        self.size += len(data)
        return data

    def read(self, size: int = -1) -> bytes:
        """Read up to *size* bytes."""
        return self.note(self.file.read(size))

    def write(self, data: bytes) -> int:
        """Write all of *data*."""
        return self.file.write(self.note(data))

    def flush(self) -> None:
        """Hand over what waits in the buffer."""
        self.file.flush()


def recipients_of(key: str) -> Recipients:
    """Read who may open a backup: an age recipient, or a file with one a line.

    Raises BadKeyError.
    """
    lines = [key] if key.startswith("age1") else lines_of(Path(key))
    try:
        return [pyrage.x25519.Recipient.from_str(line) for line in lines]
    except pyrage.RecipientError as error:
        raise BadKeyError("That is no age recipient: it starts with age1 and is public.") from error


def identities_of(file: Path) -> Identities:
    """Read the secret keys of *file*. Raises BadKeyError."""
    try:
        return [pyrage.x25519.Identity.from_str(line) for line in lines_of(file)]
    except pyrage.IdentityError as error:
        raise BadKeyError(f"{file} holds no age identity: AGE-SECRET-KEY-1 …") from error


def lines_of(file: Path) -> list[str]:
    """Return the lines of a key file that are no comment. Raises BadKeyError."""
    try:
        text = file.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as error:
        raise BadKeyError(f"The key file {file} cannot be read.") from error
    lines = [line.strip() for line in text.splitlines()]
    if found := [line for line in lines if line and not line.startswith("#")]:
        return found
    raise BadKeyError(f"The key file {file} is empty.")


def seal(source: BinaryIO, target: Path, recipients: Recipients) -> Copied:
    """Copy *source* to *target*, sealed to *recipients* where there are any, and on the disk.

    Raises OSError; *target* is then not there.
    """
    return last_copy(Counted(source), target, recipients, None)


def unseal(source: Path, target: Path, identities: Identities | None) -> Copied:
    """Copy *source* back to *target*, opened by one of *identities*; None: it is not sealed.

    Raises OSError, BadKeyError, DamagedError; *target* is then not there.
    """
    try:
        with source.open("rb") as file:
            return last_copy(Counted(file), target, [], identities)
    except pyrage.DecryptError as error:
        raise BadKeyError("This key does not open the backup.") from error


def last_copy(
    source: Counted, target: Path, recipients: Recipients, identities: Identities | None
) -> Copied:
    """Copy through age or straight, wait for the disk, and drop what did not come about."""
    handle = os.open(target, os.O_CREAT | os.O_WRONLY | os.O_TRUNC, 0o600)
    try:
        with os.fdopen(handle, "wb") as file:
            written = Counted(file)
            if recipients:
                pyrage.encrypt_io(source, written, recipients)
            elif identities is not None:
                pyrage.decrypt_io(source, written, identities)
            else:
                shutil.copyfileobj(source, written, BLOCK)
            file.flush()
            os.fsync(file.fileno())
    except BaseException as error:
        target.unlink(missing_ok=True)
        if isinstance(error, pyrage.EncryptError):
            raise OSError(str(error)) from error
        raise
    plain, kept = (source, written) if identities is None else (written, source)
    return Copied(plain.hash.hexdigest(), plain.size, kept.hash.hexdigest())


def digest_of(file: BinaryIO) -> str:
    """Return the SHA-256 of what is left to read of *file*. Raises OSError."""
    return hashlib.file_digest(file, "sha256").hexdigest()


def sha256_of(path: Path) -> str:
    """Return the SHA-256 of the file at *path*. Raises OSError."""
    with path.open("rb") as file:
        return digest_of(file)


def sync_folder(path: Path) -> None:
    """Wait until the entries of folder *path* are on the disk. Raises OSError."""
    handle = os.open(path, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
