"""Each test about sending has a store of its own."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.evidence.reminders.push_service import PushService, start
from tests.evidence.storage.buckets import bucket_server, keep_renditions_at, new_bucket

__all__ = ["bucket_server"]


@pytest.fixture(autouse=True)
def own_store(request, settings, tmp_path: Path) -> Path:
    """Give each test an empty store: a folder, and a bucket too where BOTH_STORES asks for it."""
    settings.MEDIA_ROOT = tmp_path / "media"
    if getattr(request, "param", "folder") == "bucket":
        keep_renditions_at(new_bucket(request.getfixturevalue("bucket_server")), settings)
    return settings.MEDIA_ROOT


@pytest.fixture
def service(settings, tmp_path: Path) -> Iterator[PushService]:
    """Return a push service that runs, and a portal with a key of its own that may wake it."""
    settings.DATA_DIR = tmp_path
    settings.PUSH_ANYWHERE = True
    made, server = start()
    yield made
    server.shutdown()
    server.server_close()
