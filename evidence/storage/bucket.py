"""The clean copies in the bucket of an S3-compatible store, for portals of many machines.

A reader never gets a link into the bucket, however short its life: who may see a file is asked
again for every range of it, so that an adult who leaves a home loses the next second of a clip and
not the next minute. The portal reads the range and passes it on.
"""

import base64
import hashlib
from collections.abc import Iterator
from contextlib import contextmanager
from copy import copy
from datetime import timedelta
from functools import cached_property, partial
from pathlib import Path
from typing import Any, NoReturn

from botocore.config import Config
from botocore.exceptions import BotoCoreError, ClientError
from django.utils import timezone
from storages.backends.s3 import S3Storage

from evidence.storage.reading import BLOCK, StoreAwayError

NOT_FOUND = 404
# Seconds of silence. A store may think for a while about a clip that it was sent; whoever asks for
# one waits in front of a page, and holds one of its threads.
WRITE_TIMEOUT, READ_TIMEOUT = 20, 4
md5 = partial(hashlib.md5, usedforsecurity=False)


class Bucket(S3Storage):
    """The bucket that STORAGE_URL names, with limits so that no page hangs on it."""

    def get_default_settings(self) -> dict[str, Any]:
        """Return what the settings do not say."""
        config = Config(
            connect_timeout=3,
            read_timeout=WRITE_TIMEOUT,
            retries={"mode": "standard", "total_max_attempts": 2},
            max_pool_connections=20,
            signature_version="s3v4",
            s3={"addressing_style": "path"},
            # Newer digests are known to some stores only; `put` sends one that all of them check.
            request_checksum_calculation="when_required",
            response_checksum_validation="when_required",
        )
        return super().get_default_settings() | {"client_config": config}

    @cached_property
    def quick(self) -> "Bucket":
        """Give the same bucket for whoever waits: it gives up soon when the store is silent."""
        quick = copy(self)
        quick.client_config = self.client_config.merge(Config(read_timeout=READ_TIMEOUT))
        return quick

    def put(self, source: Path, name: str) -> None:
        """Store the file at *source* as *name*, whole or not at all. Raises OSError.

        The store compares what came with a digest before it says yes.
        """
        with source.open("rb") as file, self.answering():
            digest = hashlib.file_digest(file, md5).digest()
            file.seek(0)
            answer = self.bucket.Object(name).put(
                Body=file,
                ContentMD5=base64.b64encode(digest).decode("ascii"),
                ContentType=self.default_content_type,
                **self.get_object_parameters(name),
            )
        if not answer.get("ETag"):  # Whoever said yes, it was not the store, or not all of it.
            raise StoreAwayError("the bucket did not say what it has stored")

    def open_stored(self, name: str) -> "InBucket":
        """Open *name* for reading. Raises FileNotFoundError, StoreAwayError."""
        quick = self.quick
        with quick.answering():
            size = quick.bucket.Object(name).content_length
        if size is None:  # An answer that broke off before it told.
            raise StoreAwayError("the bucket does not answer")
        return InBucket(quick, name, size)

    def remove(self, name: str) -> None:
        """Delete *name*; one that is not there is no error. Raises StoreAwayError."""
        with self.answering():
            self.bucket.Object(name).delete()

    def names(self, start: str, older_than: float) -> list[str]:
        """List the names that begin with *start* and are older than so many seconds.

        Raises StoreAwayError.
        """
        limit = timezone.now() - timedelta(seconds=older_than)
        with self.answering():
            found = self.bucket.objects.filter(Prefix=start)
            return [each.key for each in found if each.last_modified < limit]

    def check(self) -> None:
        """Raise StoreAwayError unless the bucket answers."""
        try:
            self.connection.meta.client.head_bucket(Bucket=self.bucket_name)
        except (BotoCoreError, ClientError) as error:
            raise StoreAwayError("the bucket does not answer") from error

    @contextmanager
    def answering(self) -> Iterator[None]:
        """Say in our own errors what is amiss: a file that is not there, or the whole store.

        A bucket that is gone says of each file that it is not there, so it is asked as well.
        """
        try:
            yield
        except (BotoCoreError, ClientError) as error:
            # A line that was dropped, or silent for too long, has None for a response.
            metadata = (getattr(error, "response", None) or {}).get("ResponseMetadata", {})
            if metadata.get("HTTPStatusCode") != NOT_FOUND:
                raise StoreAwayError("the bucket does not answer") from error
            self.check()
            raise FileNotFoundError("not in the bucket") from error

    def url(self, *_args: object, **_more: object) -> NoReturn:
        """Return no link: see the top of this file. Raises NotImplementedError."""
        raise NotImplementedError("pieces are read through the portal alone")


class InBucket:
    """A file of the bucket; each stretch of it is one request to the store."""

    def __init__(self, bucket: Bucket, name: str, size: int) -> None:
        self.bucket = bucket
        self.name = name
        self.size = size

    def blocks(self, first: int, length: int) -> Iterator[bytes]:
        """Yield *length* bytes from byte *first* on; fewer where the file ends. Raises OSError."""
        stop = min(first + length, self.size)
        if first >= stop:
            return
        with self.bucket.answering():
            asked = f"bytes={first}-{stop - 1}"
            body = self.bucket.bucket.Object(self.name).get(Range=asked)["Body"]
            try:
                yield from body.iter_chunks(BLOCK)
            finally:
                body.close()

    def close(self) -> None:
        """Let go of the file: nothing is held between two stretches."""
