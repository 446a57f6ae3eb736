"""The list of what was erased or ended for good, so that no backup brings it back.

One JSON object a line, added to and never changed: {"at": "2026-11-25T13:45:00+00:00",
"model": "people.child", "pk": 12}. It names nobody. `restore` erases again what was erased
after its backup was taken; what was erased before is not in the backup, and its key may have been
given to somebody else since. A line with "what" is about a way in that was ended or made narrower,
or a consent that was refused: "details" then says to what, in keys again.

The list is kept twice. In a file beside the database, which no restore of the database can undo;
and in the database, so that every machine of a portal learns what another one erased: `prepare` and
`backup` have file and database know the same.
"""

import datetime as dt
import json
import os
from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path
from typing import Any

from django.apps import apps
from django.conf import settings
from django.db import transaction
from django.utils import timezone

from portal.operations.models import Gone

DETAILS_OF_OLD = "told"  # lists are never rewritten, so older lines keep this word
ERASED, ENDED, NARROWED, REFUSED = "erased", "ended", "narrowed", "refused"


@dataclass(frozen=True)
class Erasure:
    """One row that is gone for good, with all that hangs on it: "app.model" and its key.

    what: ERASED, or what else was done to it; details: what that needs to be done again.
    """

    at: dt.datetime
    model: str
    pk: int
    what: str = ERASED
    details: dict[str, Any] = field(default_factory=dict, hash=False)

    def to_line(self) -> str:
        """Write it as a line of the file."""
        more = {} if self.what == ERASED else {"what": self.what, "details": self.details}
        at = self.at.isoformat()
        return json.dumps({"at": at, "model": self.model, "pk": self.pk, **more})

    @classmethod
    def of(cls, row: Gone) -> "Erasure":
        """Read a row of the database."""
        return cls(row.at, row.model, row.key, row.what, row.details)

    def to_row(self) -> Gone:
        """Return the row of the database that is to be made of it."""
        return Gone(at=self.at, model=self.model, key=self.pk, what=self.what, details=self.details)


def path() -> Path:
    """Return where the list of this portal is."""
    return Path(settings.ERASURES_FILE)


def note(
    model: str, pk: int, at: dt.datetime | None = None, what: str = ERASED, **details: Any
) -> None:
    """Add one line, on the disk and in the database before this returns.

    Raises OSError, LookupError, DatabaseError.
    """
    apps.get_model(model)
    erasure = Erasure(at or timezone.now(), model, pk, what, details)
    add_to_file([erasure])
    erasure.to_row().save()


def add_to_file(more: Iterable[Erasure]) -> None:
    """Add lines to this machine's file, and wait for the disk. Raises OSError."""
    with path().open("a", encoding="ascii") as file:
        os.fchmod(file.fileno(), 0o600)
        file.writelines(f"{each.to_line()}\n" for each in more)
        file.flush()
        os.fsync(file.fileno())


def merge() -> None:
    """Have this machine's file and the database know the same. Raises OSError, ValueError."""
    here = dict.fromkeys(read(path()))
    there = dict.fromkeys(Erasure.of(row) for row in Gone.objects.order_by("at", "pk"))
    if missed := [each for each in there if each not in here]:
        add_to_file(missed)
    Gone.objects.bulk_create(each.to_row() for each in here if each not in there)


def note_on_commit(model: str, pk: int, what: str, **details: Any) -> None:
    """Add a line once it is true. A disk that is full keeps nobody's access open: it is logged."""
    transaction.on_commit(partial(note, model, pk, what=what, **details), robust=True)


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
    row = json.loads(line)
    at = dt.datetime.fromisoformat(row["at"])
    if at.tzinfo is None:
        raise ValueError("a time without its zone")
    return Erasure(
        at,
        str(row["model"]),
        int(row["pk"]),
        str(row.get("what", ERASED)),
        dict(row.get("details", row.get(DETAILS_OF_OLD, {}))),
    )
