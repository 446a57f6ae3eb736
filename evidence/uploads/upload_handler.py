"""Receives the files of a form straight into the store, and looks at each as it comes in."""

import logging
from collections.abc import Iterator
from contextlib import contextmanager

from django.core.files.uploadedfile import UploadedFile
from django.core.files.uploadhandler import FileUploadHandler
from django.http import HttpRequest
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from evidence.media import (
    HEAD_BYTES,
    LIMITS,
    Kind,
    Recognised,
    RefusalReason,
    recognise,
    refusal_words,
)
from evidence.storage.store import Incoming
from evidence.uploads.limits import MAX_PIECES, megabytes

# Said of a file that the disk would not take. The words typed beside it are still in the form.
NOT_SAVED = gettext_lazy("We could not save this just now. Please send it again in a few minutes.")
NAME_SHOWN = 40

log = logging.getLogger(__name__)


class ArrivedFile(UploadedFile):
    """One file of a form: whole and hashed in the store's waiting room, or refused and gone.

    `kind` is None where `refusal` holds the words that say what the sender can do about it;
    `failed` tells that it was our disk and not the file.
    """

    def __init__(
        self, incoming: Incoming | None, name: str, kind: Kind | None, refusal: str, failed: bool
    ) -> None:
        super().__init__(incoming, name, size=incoming.size if incoming else 0)
        self.kind = kind
        self.refusal = refusal
        self.failed = failed
        self.turn = 0
        self.prompt = None

    @property
    def sha256(self) -> str:
        """Return the SHA-256 of the file, in hexadecimal."""
        return self.file.sha256

    def keep(self) -> str:
        """Make the file last, and give its name in the store. Raises OSError."""
        return self.file.keep()

    def close(self) -> None:
        """Drop the file unless it was kept. Django calls this when the request ends."""
        if self.file:
            self.file.discard()


class IntoTheStore(FileUploadHandler):
    """Write each file of a form into the store while it comes in, once, and never into memory.

    What it is shows in its first bytes. A refused file is read to its end and dropped, so that
    the sender gets an answer and the rest of the form counts.
    """

    def __init__(self, request: HttpRequest | None = None) -> None:
        super().__init__(request)
        self.files = 0
        self.incoming: Incoming | None = None

    def new_file(self, *args: object, **kwargs: object) -> None:
        """Begin a file."""
        super().new_file(*args, **kwargs)
        self.files += 1
        self.head, self.size = b"", 0
        self.kind: Kind | None = None
        self.refusal, self.failed = "", False
        try:
            self.incoming = Incoming()
        except OSError:
            self.fail()
        if self.files > MAX_PIECES:
            self.refuse(_("Only %(count)d can be sent at once.") % {"count": MAX_PIECES})

    def receive_data_chunk(self, raw_data: bytes, start: int) -> None:
        """Take the next bytes of the file."""
        if self.refusal:
            return
        self.size += len(raw_data)
        if len(self.head) < HEAD_BYTES:
            self.head += raw_data[:HEAD_BYTES]
        if self.kind is None and len(self.head) >= HEAD_BYTES:
            self.judge()
        if self.kind and self.size > LIMITS.allowance(self.kind).bytes:
            self.refuse(too_big(self.kind))
        if not self.refusal:
            self.write(raw_data)

    def write(self, data: bytes) -> None:
        """Write on; a disk that does not take it fails this file and no other."""
        try:
            self.incoming.write(data)
        except OSError:
            self.fail()

    def judge(self) -> None:
        """Say what the file is, from its first bytes."""
        found = recognise(self.head)
        if isinstance(found, Recognised):
            self.kind = found.kind
        else:
            self.refuse(_(refusal_words(found.reason)))

    def refuse(self, words: str) -> None:
        """Drop the file, for a reason its sender can do something about."""
        self.refusal = self.refusal or words
        self.drop()

    def fail(self) -> None:
        """Drop the file, for a reason that is ours."""
        log.error("an upload could not be written", exc_info=True)
        self.refusal, self.failed = str(NOT_SAVED), True
        self.drop()

    def drop(self) -> None:
        """Drop what came of the file at hand, if there is one."""
        if self.incoming:
            self.incoming.discard()
            self.incoming = None

    def file_complete(self, file_size: int) -> ArrivedFile:
        """Return the file, whole or refused."""
        if not self.refusal and self.kind is None:
            self.judge()
        file = ArrivedFile(self.incoming, self.file_name, self.kind, self.refusal, self.failed)
        self.incoming = None
        return file

    def upload_interrupted(self) -> None:
        """Drop what arrived of a file whose sender went away."""
        self.drop()


@contextmanager
def straight_into_the_store(request: HttpRequest) -> Iterator[None]:
    """Have the files of *request* written to the store; those nobody keeps are gone at the end.

    To be entered before anything reads the form. Raises nothing of its own.
    """
    handler = IntoTheStore(request)
    request.upload_handlers = [handler]
    try:
        yield
    finally:
        handler.drop()


def too_big(kind: Kind) -> str:
    """Say how large a file of *kind* may be."""
    most = megabytes(LIMITS.allowance(kind).bytes)
    words = _(refusal_words(RefusalReason.TOO_BIG))
    return f"{words} " + _("The most is %(most)s.") % {"most": most}


def refusal_line(position: int, file: ArrivedFile) -> str:
    """Say which file was refused and why: phones call every photo the same, so it is counted."""
    name = file.name or ""
    shown = name if len(name) <= NAME_SHOWN else name[: NAME_SHOWN - 1] + "…"
    return _("Number %(position)d (“%(name)s”) was not sent. %(why)s") % {
        "position": position,
        "name": shown,
        "why": file.refusal,
    }
