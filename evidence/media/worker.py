"""The child process: read one order, clean the file on standard input, write the answer.

Started as a script by path, so that neither Django nor the project's settings are ever loaded here.
"""

import errno
import json
import os
import sys
from collections.abc import Callable
from dataclasses import asdict
from importlib import import_module
from pathlib import Path
from types import ModuleType
from typing import Any, BinaryIO

if not __package__:
    here = Path(__file__).resolve().parent
    sys.path.insert(0, str(here.parents[1]))
    # The parent's half of the package would only cost every photo another 15 ms.
    sys.modules["evidence.media"] = bare = ModuleType("evidence.media")
    bare.__path__ = [str(here)]

from evidence.media.apart import move_apart
from evidence.media.boxes import is_cut_short
from evidence.media.draft import TRY_LATER, Draft, RefusalError, names_for
from evidence.media.limits import Allowance, Limits
from evidence.media.outcome import Kind, RefusalReason, SourceFormat
from evidence.media.walls import raise_walls

Decoder = Callable[[BinaryIO, SourceFormat, int, Limits], Draft]
Loader = Callable[[SourceFormat, BinaryIO], None]

# Loaded one at a time: a photo should not wait for the video library. Where the decoder is, its
# name, and where it is told to import the rest.
DECODERS = {
    Kind.PHOTO: ("evidence.media.pictures", "clean_picture", "evidence.media.pictures"),
    Kind.CLIP: ("evidence.media.clips", "clean_clip", "evidence.media.containers"),
    Kind.VOICE: ("evidence.media.voices", "clean_voice", "evidence.media.containers"),
    Kind.PAGE: ("evidence.media.pages", "clean_pages", "evidence.media.pages"),
}
BOXED = {
    SourceFormat.HEIF, SourceFormat.AVIF, SourceFormat.MP4,
    SourceFormat.MOV, SourceFormat.THREEGP, SourceFormat.M4A,
}  # fmt: skip

# Errors that say something of this machine, not of the file.
MACHINE = {errno.ENOSPC, errno.EDQUOT, errno.EROFS, errno.EMFILE, errno.ENFILE}


def main(order: dict[str, Any]) -> int:
    """Carry out *order*, say which walls stand and then what came of it; give the exit code.

    order: kind, format (None: only raise the walls), turn, limits, user, unlisted.
    """
    kind, limits = Kind(order["kind"]), read_limits(order)
    apart = move_apart(limits.allowance(kind).cpu_seconds)
    source = sys.stdin.buffer
    decode = loaded(kind, order["format"], source)
    walls = raise_walls(
        limits.allowance(kind),
        limits,
        names=names_for(kind, limits.pages),
        user=order["user"],
        unlisted=order["unlisted"],
    )
    say({"namespaces": apart, **walls})
    if order["format"] is None:
        return 0
    try:
        draft = examined(decode, source, SourceFormat(order["format"]), order["turn"], limits)
        answer = asdict(draft)
    except ImportError:
        raise  # a part of a library that was not loaded beforehand: the decoder is broken
    except Exception as error:
        if is_of_this_machine(error):
            return TRY_LATER
        refusal = refusal_of(error)
        answer = {"refused": refusal.reason, "detail": refusal.detail}
    say(answer)
    return 0


def loaded(kind: Kind, found: str | None, source: BinaryIO) -> Decoder:
    """Import all that decoding *source* may take, and give its decoder."""
    module, name, loader = DECODERS[kind]
    decode: Decoder = getattr(import_module(module), name)
    load: Loader = import_module(loader).load
    if found is not None:
        load(SourceFormat(found), source)
    return decode


def examined(
    decode: Decoder, source: BinaryIO, found: SourceFormat, turn: int, limits: Limits
) -> Draft:
    """Decode *source*. Raises whatever a decoder raises."""
    if found in BOXED and is_cut_short(source, os.fstat(source.fileno()).st_size):
        raise RefusalError(RefusalReason.CUT_SHORT, "ends inside a box")
    source.seek(0)
    return decode(source, found, turn, limits)


def say(what: dict[str, Any]) -> None:
    """Hand *what* to the parent as one line."""
    os.write(1, json.dumps(what).encode() + b"\n")


def read_limits(order: dict[str, Any]) -> Limits:
    """Build the limits again from what travelled as JSON."""
    values = order["limits"]
    return Limits(**values | {kind: Allowance(**values[kind]) for kind in Kind})


def is_of_this_machine(error: Exception) -> bool:
    """Tell a full disk from a bad file."""
    # The video library also says EIO for a damaged file, but with a class of its own.
    disk = type(error) is OSError and error.errno == errno.EIO
    return disk or (isinstance(error, OSError) and error.errno in MACHINE)


def refusal_of(error: Exception) -> RefusalError:
    """Name the reason behind whatever a decoder raised."""
    if isinstance(error, RefusalError):
        return error
    if isinstance(error, MemoryError):
        return RefusalError(RefusalReason.TOO_MUCH_MEMORY)
    if isinstance(error, OSError) and error.errno == errno.EFBIG:
        return RefusalError(RefusalReason.TOO_BIG, "clean copy too large")
    cut = isinstance(error, EOFError) or "truncated" in str(error)
    reason = RefusalReason.CUT_SHORT if cut else RefusalReason.UNREADABLE
    return RefusalError(reason, type(error).__name__)


if __name__ == "__main__":
    # Leave at once: the answer is written, and tidying up a large picture takes 10 ms.
    os._exit(main(json.loads(sys.argv[1])))
