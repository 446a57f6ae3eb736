"""A store of the S3 kind on this machine, for tests that run over both stores."""

import logging
import secrets
from collections.abc import Iterator

import boto3
import pytest
from django.conf import settings
from django.core.files.storage import storages
from moto.server import ThreadedMotoServer

from portal.bucket_address import bucket_at

BOTH_STORES = pytest.mark.parametrize("own_store", ["folder", "bucket"], indirect=True)


@pytest.fixture(scope="session")
def bucket_server() -> Iterator[str]:
    """Return the host and port of a store that forgets everything at the end."""
    logging.getLogger("werkzeug").setLevel(logging.ERROR)
    server = ThreadedMotoServer("127.0.0.1", 0, verbose=False)
    server.start()
    yield "{}:{}".format(*server.get_host_and_port())
    server.stop()


def new_bucket(server: str) -> str:
    """Make an empty bucket, and give its STORAGE_URL."""
    name = f"pieces-{secrets.token_hex(6)}"
    client_of(server).create_bucket(Bucket=name)
    return f"s3+http://key:a%2Fsecret@{server}/{name}?region=us-east-1"


def client_of(server: str):
    """Give a plain client of the store, to see what lies there."""
    keys = {"aws_access_key_id": "key", "aws_secret_access_key": "a/secret"}
    return boto3.client("s3", endpoint_url=f"http://{server}", region_name="us-east-1", **keys)


def keep_renditions_at(url: str, settings) -> None:
    """Have the renditions lie in the bucket at *url*."""
    settings.STORAGES = settings.STORAGES | {"renditions": bucket_at(url)}


def names_in_bucket() -> list[str]:
    """List what lies in the bucket of the settings; nothing without one."""
    if "renditions" not in settings.STORAGES:
        return []
    return [each.key for each in storages["renditions"].bucket.objects.all()]
