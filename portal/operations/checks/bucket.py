"""Whether the bucket of STORAGE_URL keeps files as it should, and keeps them to itself."""

import secrets
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from botocore import UNSIGNED
from botocore.client import BaseClient
from botocore.config import Config
from botocore.exceptions import BotoCoreError, ClientError
from django.conf import settings
from django.core.files.storage import storages

from portal.operations.checks.lines import Line, bad, look, ok

WELL = b"well"
PRIVATE = "Nobody without its key can read or list it."


def check_bucket() -> Iterator[Line]:
    """Yield whether a small file can be put there, read and deleted, and by nobody else."""
    if "renditions" not in settings.STORAGES:
        return
    bucket: Any = storages["renditions"]
    name = f"doctor-was-here-{secrets.token_hex(8)}"
    try:
        put(bucket, name)
        try:
            yield read_back(bucket, name)
            yield private(bucket, name)
        finally:
            bucket.remove(name)
        yield deleted(bucket, name)
        yield versions(bucket)
    except OSError:
        yield bad("bucket", "It does not take, give back and delete a file. See STORAGE_URL.")


def put(bucket: Any, name: str) -> None:
    """Put a small file there. Raises OSError."""
    with tempfile.NamedTemporaryFile() as file:
        file.write(WELL)
        file.flush()
        bucket.put(Path(file.name), name)


def read_back(bucket: Any, name: str) -> Line:
    """Read the file again. Raises OSError."""
    file = bucket.open_stored(name)
    if b"".join(file.blocks(0, file.size)) == WELL:
        return ok("bucket", "What is put there comes back.")
    return bad("bucket", "What is put there does not come back as it was.")


def private(bucket: Any, name: str) -> Line:
    """Ask for the file, and for the list of all, as somebody without a key does."""
    stranger = without_key(bucket)
    asked = (
        lambda: stranger.get_object(Bucket=bucket.bucket_name, Key=name),
        lambda: stranger.list_objects_v2(Bucket=bucket.bucket_name, MaxKeys=1),
    )
    try:
        for ask in asked:
            try:
                ask()
            except ClientError:
                continue
            return bad("bucket", "Anybody can read it or list it: make it private at once.")
    except BotoCoreError:
        return look("bucket", "Whether others can read it could not be found out.")
    return ok("bucket", PRIVATE)


def without_key(bucket: Any) -> BaseClient:
    """Return a client of the same store that signs nothing."""
    known = bucket.connection.meta.client.meta
    config = Config(
        signature_version=UNSIGNED,
        connect_timeout=3,
        read_timeout=5,
        retries={"total_max_attempts": 1},
        s3={"addressing_style": "path"},
    )
    session = bucket._create_session()
    return session.client(
        "s3", endpoint_url=known.endpoint_url, region_name=known.region_name, config=config
    )


def deleted(bucket: Any, name: str) -> Line:
    """See that the deleted file is gone. Raises OSError."""
    try:
        bucket.open_stored(name)
    except FileNotFoundError:
        return ok("bucket", "What is deleted is gone.")
    return bad("bucket", "What is deleted stays. Allow the key of STORAGE_URL to delete.")


def versions(bucket: Any) -> Line:
    """See that no old versions are kept: what families delete would stay among them."""
    try:
        answer = bucket.connection.meta.client.get_bucket_versioning(Bucket=bucket.bucket_name)
    except (BotoCoreError, ClientError):
        return look("bucket", "Whether it keeps old versions could not be found out.")
    if answer.get("Status") == "Enabled":
        return bad("bucket", "It keeps old versions, so what is deleted stays: turn them off.")
    return ok("bucket", "It keeps no old versions.")
