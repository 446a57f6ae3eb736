"""Clean one file a family sent: the way in and out of this package."""

import hashlib
import stat
from pathlib import Path

from evidence.media.draft import MEDIA_TYPES, Draft, DraftFile
from evidence.media.inspect_output import UnexpectedOutputError, inspect_jpeg, inspect_mp4
from evidence.media.limits import LIMITS, Limits
from evidence.media.outcome import Cleaned, CrashedError, Output, Recognised, RefusalReason, Refused
from evidence.media.recognise import recognise_file
from evidence.media.sandbox import Child
from evidence.media.workspace import move_into_place, workspace

TURNS = (0, 90, 180, 270)


def clean(
    path: Path, out_dir: Path, *, turn: int = 0, limits: Limits = LIMITS
) -> Cleaned | Refused:
    """Decode the file at *path* in a child process and keep a clean copy in *out_dir*.

    turn: degrees clockwise chosen by a person, on top of what the camera recorded.
    The source is only read. Final names are fixed by role (display.jpg, thumb.jpg, clip.mp4,
    poster.jpg, sound.m4a, page-01.jpg ...), appear whole or not at all, and are durable on return;
    running twice gives the same names and bytes. A refusal leaves nothing.

    Raises ValueError for another turn; OSError when the source cannot be read or the disk is full;
    TryLaterError when our own trouble was in the way; CrashedError when the decoder broke, which
    may be the file's doing. Only the decoder's own verdict is a Refused.
    """
    if turn not in TURNS:
        raise ValueError(f"turn must be one of {TURNS}, not {turn}")
    with path.open("rb") as source:
        found = recognise_file(source, limits)
        if isinstance(found, Refused):
            return found
        with workspace(out_dir) as work, Child(source, work, found, turn, limits) as child:
            digest = _sha256(path)  # while the child decodes
            draft = child.result()
            if isinstance(draft, Refused):
                return draft
            return _keep(draft, work, out_dir, found, digest)


def rotate(path: Path, out_dir: Path, turn: int, *, limits: Limits = LIMITS) -> Cleaned | Refused:
    """Turn the clean picture or clip at *path* by 90, 180 or 270 degrees clockwise into *out_dir*.

    *path* may be the display picture in *out_dir* itself. Raises as `clean` does.
    """
    return clean(path, out_dir, turn=turn, limits=limits)


def _keep(draft: Draft, work: Path, out_dir: Path, found: Recognised, digest: str) -> Cleaned:
    try:
        outputs = tuple(_inspect(file, work, out_dir) for file in draft.files)
    except UnexpectedOutputError as error:
        raise CrashedError(RefusalReason.UNREADABLE, f"unexpected output: {error}") from error
    move_into_place([(work / output.path.name, output.path) for output in outputs])
    return Cleaned(
        draft.kind, outputs, draft.width, draft.height, draft.seconds, found.format, digest
    )


def _inspect(file: DraftFile, work: Path, out_dir: Path) -> Output:
    written = work / file.name
    if not is_plain(written):
        raise UnexpectedOutputError("not a plain file")
    size = file.width, file.height
    if written.suffix == ".jpg":
        size = inspect_jpeg(written)
    else:
        inspect_mp4(written)
    return Output(
        role=file.role,
        path=out_dir / file.name,
        media_type=MEDIA_TYPES[written.suffix[1:]],
        bytes=written.stat().st_size,
        sha256=_sha256(written),
        width=size[0],
        height=size[1],
    )


def is_plain(path: Path) -> bool:
    """Whether *path* is a file that no other name leads to: no link, pipe, folder or device."""
    try:
        found = path.lstat()
    except FileNotFoundError:
        return False
    return stat.S_ISREG(found.st_mode) and found.st_nlink == 1


def _sha256(path: Path) -> str:
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()
