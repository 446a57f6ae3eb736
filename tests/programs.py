"""Programs of this machine that judge once more, where they are."""

import shutil

import pytest


def program(name: str) -> str:
    """Return where the program *name* is; without it, skip the test."""
    found = shutil.which(name)
    if not found:
        pytest.skip(f"{name} is not on this machine: it judges once more where it is")
    return found
