"""Takes the bytes of a request into an upload: what is promised is on the disk and in its row."""

import logging
import time
from typing import Any

from django.db import DatabaseError
from django.utils.translation import gettext as _

from evidence.media import HEAD_BYTES, Recognised, RefusalReason, recognise, refusal_words
from evidence.storage.partial_files import PartialFile, is_wanted
from evidence.uploads.tus.body import Body
from evidence.uploads.tus.completing import complete
from evidence.uploads.tus.ending import refuse
from evidence.uploads.tus.protocol import CHECKSUM_MISMATCH, Checksum, RequestError
from evidence.uploads.tus.upload import Upload
from evidence.uploads.upload_handler import NOT_SAVED, too_big

log = logging.getLogger(__name__)
PROMISE_EVERY = 2.0  # seconds


class Writing:
    """One request's bytes on their way into the file of *upload*, which is held for it."""

    def __init__(self, upload: Upload, file: PartialFile, checksum: Checksum | None) -> None:
        self.upload = upload
        self.file = file
        self.checksum = checksum
        self.hash: Any = checksum.begin() if checksum else None
        self.start = self.at = upload.offset
        self.promised = time.monotonic()

    def run(self, body: Body) -> None:
        """Take in *body*, and the piece with its last byte.

        Raises RequestError: what was refused, or could not be saved. All that was promised stands,
        and a line that was cut leaves behind as much as came through.
        """
        try:
            self.take(body)
            self.check(body)
            self.finish()
        except (OSError, DatabaseError) as error:
            self.fail(error)

    def take(self, body: Body) -> None:
        """Write the bytes as they come."""
        self.file.cut_to(self.start)
        with body.watched(lambda: is_wanted(self.file.name)):
            for block in body.blocks():
                if self.at + len(block) > self.upload.length:
                    self.file.cut_to(self.upload.offset)
                    raise RequestError(413, "More bytes came than the upload has.")
                self.file.write(block)
                self.at += len(block)
                if self.hash:
                    self.hash.update(block)
                self.look_at_kind(len(block))
                self.promise_in_between()

    def look_at_kind(self, new: int) -> None:
        """Refuse what is no work of a child as soon as its first bytes show that."""
        enough = min(HEAD_BYTES, self.upload.length)
        if not self.at - new < enough <= self.at:
            return
        found = recognise(self.file.head(HEAD_BYTES), size=self.upload.length)
        if isinstance(found, Recognised):
            return
        words = _(refusal_words(found.reason))
        status = 422
        if found.reason == RefusalReason.TOO_BIG:
            kind = recognise(self.file.head(HEAD_BYTES), size=1).kind
            words, status = too_big(kind), 413
        refuse(self.upload, words)
        raise RequestError(status, words)

    def promise_in_between(self) -> None:
        """Promise what came so far every few seconds; what has a checksum, not before its end."""
        if self.checksum or time.monotonic() - self.promised < PROMISE_EVERY:
            return
        self.promise()

    def promise(self) -> None:
        """Have all bytes on the disk, and save that; the last one waits for its piece."""
        self.file.settle()
        self.upload.promise(min(self.at, self.upload.length - 1))
        self.promised = time.monotonic()

    def check(self, body: Body) -> None:
        """Drop bytes that are not what their checksum says, and those cut short of it."""
        if not self.checksum:
            return
        short = body.length is not None and self.at - self.start < body.length
        if short or self.hash.digest() != self.checksum.digest:
            self.file.cut_to(self.start)
            raise RequestError(CHECKSUM_MISMATCH, "The bytes are not those of Upload-Checksum.")

    def finish(self) -> None:
        """Promise what came; when that is all of it, make the piece in the same breath."""
        if self.at < self.upload.length:
            self.promise()
            return
        self.file.settle()
        complete(self.upload, self.file)

    def fail(self, error: Exception) -> None:
        """Say that the disk or the database would not take it, keeping what they will."""
        log.error("upload %d waits for a better moment: %s", self.upload.pk, type(error).__name__)
        if not self.checksum:
            self.keep_what_is_there()
        raise RequestError(507 if isinstance(error, OSError) else 503, str(NOT_SAVED)) from error

    def keep_what_is_there(self) -> None:
        """Promise the whole blocks that were written, if that can be done at all.

        An fsync that fails says nothing of what came before it, so then nothing new is promised.
        """
        try:
            self.promise()
        except (OSError, DatabaseError):
            log.warning("upload %d goes on from its last promise", self.upload.pk)
