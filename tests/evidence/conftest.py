"""Each test about sending has a store of its own."""

from pathlib import Path

import pytest


@pytest.fixture(autouse=True)
def own_store(settings, tmp_path: Path) -> Path:
    """Give each test an empty store."""
    settings.MEDIA_ROOT = tmp_path / "media"
    return settings.MEDIA_ROOT
