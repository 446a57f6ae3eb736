"""Where finished copies lie: a folder that web servers and workers share, and nobody else."""

import re
import secrets
import time
from pathlib import Path

from django.conf import settings

AREA = "copies"
NAME = re.compile(r"[0-9a-f]{40}\.zip")


def folder() -> Path:
    """Return the folder of copies; it is made where it is not there."""
    path = Path(settings.MEDIA_ROOT) / AREA
    path.mkdir(mode=0o700, parents=True, exist_ok=True)
    return path


def new_name() -> str:
    """Return a fresh name of 160 random bits."""
    return f"{secrets.token_hex(20)}.zip"


def path_of(name: str) -> Path:
    """Return where *name* lies. Raises FileNotFoundError for no name of a copy."""
    if not NAME.fullmatch(name):
        raise FileNotFoundError(f"not a name of a copy: {name!r}")
    return Path(settings.MEDIA_ROOT) / AREA / name


def remove(name: str) -> None:
    """Delete *name*; one that is not there, or none, is no error. Raises OSError."""
    if name:
        path_of(name).unlink(missing_ok=True)


def clear_orphans(known: set[str], older_than: float) -> int:
    """Delete files older than so many seconds that are not *known*; give how many."""
    limit = time.time() - older_than
    left = [
        path
        for path in folder().iterdir()
        if path.name not in known and path.stat().st_mtime < limit
    ]
    for path in left:
        path.unlink(missing_ok=True)
    return len(left)
