"""The list of what was erased for good, so that no backup brings it back.

One JSON object a line, added to and never changed: {"at": "2026-11-25T13:45:00+00:00",
"model": "people.child", "pk": 12}. It names nobody. `restore` erases again what was erased
after its backup was taken; what was erased before is not in the backup, and its key may have been
given to somebody else since.
"""

import datetime as dt
import json
import os
from dataclasses import dataclass
from pathlib import Path

from django.apps import apps
from django.conf import settings
from django.utils import timezone


@dataclass(frozen=True)
class Erasure:
    """One row that is gone for good, with all that hangs on it: "app.model" and its key."""

    at: dt.datetime
    model: str
    pk: int


def path() -> Path:
    """Give where the list of this portal is."""
    return Path(settings.ERASURES_FILE)


def note(model: str, pk: int, at: dt.datetime | None = None) -> None:
    """Add one erasure, on the disk before this returns. Raises OSError, LookupError."""
    apps.get_model(model)
    moment = (at or timezone.now()).isoformat()
    line = json.dumps({"at": moment, "model": model, "pk": pk})
    with path().open("a", encoding="ascii") as file:
        os.fchmod(file.fileno(), 0o600)
        file.write(f"{line}\n")
        file.flush()
        os.fsync(file.fileno())


def read(file: Path) -> list[Erasure]:
    """Read a list; one that is not there is empty. Raises ValueError for a line that is broken."""
    if not file.exists():
        return []
    lines = file.read_text(encoding="ascii").splitlines()
    try:
        return [parse(line) for line in lines if line]
    except (KeyError, TypeError, ValueError) as error:
        raise ValueError(f"{file} holds a line that is no erasure") from error


def parse(line: str) -> Erasure:
    """Read one line. Raises KeyError, TypeError, ValueError."""
    told = json.loads(line)
    at = dt.datetime.fromisoformat(told["at"])
    if at.tzinfo is None:
        raise ValueError("a time without its zone")
    return Erasure(at, str(told["model"]), int(told["pk"]))
