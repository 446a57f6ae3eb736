"""Each test about privacy has a store and a list of erasures of its own."""

from pathlib import Path

import pytest


@pytest.fixture(autouse=True)
def own_data(settings, tmp_path: Path) -> Path:
    """Return each test an empty store."""
    settings.MEDIA_ROOT = tmp_path / "media"
    settings.MEDIA_ROOT.mkdir()
    settings.ERASURES_FILE = tmp_path / "erasures.jsonl"
    return tmp_path
