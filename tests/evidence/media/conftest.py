"""A photo, and what decodes it."""

from pathlib import Path

import pytest

from evidence.media import sandbox
from tests.evidence.media import made
from tests.evidence.media.worker_instead import WALLS


@pytest.fixture
def photo(tmp_path: Path) -> Path:
    """Return a small photo."""
    path = tmp_path / "photo.jpg"
    made.quarters(60, 40).save(path)
    return path


@pytest.fixture
def instead(tmp_path, monkeypatch):
    """Give a function that puts a program in the place of the decoder."""

    def put(code: str) -> None:
        program = tmp_path / "worker.py"
        program.write_text(WALLS + code)
        monkeypatch.setattr(sandbox, "WORKER", program)

    return put
