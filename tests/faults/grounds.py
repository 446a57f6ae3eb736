"""The ground that a portal can start on: a street of homes, built once and copied."""

import shutil
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.faults.portal import Portal


@pytest.fixture(scope="session")
def ground() -> Iterator[Path]:
    """Return a data folder with the street in it, to be copied."""
    folder = Path(tempfile.mkdtemp(prefix="kc-ground-"))
    Portal(folder).settle()
    yield folder
    shutil.rmtree(folder)


@pytest.fixture(scope="module")
def place() -> Iterator[Path]:
    """Return an empty folder with a short name, as sockets need one."""
    folder = Path(tempfile.mkdtemp(prefix="kc-"))
    yield folder
    shutil.rmtree(folder, ignore_errors=True)
