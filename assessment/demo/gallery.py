"""Which photo or clip hangs with which piece of work, and how it gets into the store.

What came last is put in as it arrived, and the worker makes it ready. What is older is there
already: drawn once, and stored as the clean copies of each piece that shows it.
"""

import hashlib
import random
import shutil
from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from assessment.demo.story import PICTURES, WRONG_PICTURES
from evidence.media import recognise
from evidence.models import Piece, Rendition, Submission
from evidence.storage import store
from evidence.storage.store import Incoming
from tasks.models import Task, TaskPrompt

RECENT = 1  # days that are out before the last: pieces from there on go through the worker
LATELY, SHARE_LATELY, SHARE_BEFORE = 15, 0.16, 0.02
DRAWN_TODAY = 5  # pages with the very answers that were typed
SIGNS = set("0123456789+-=÷ ")


@dataclass
class Gallery:
    """The pictures that are wanted, each for one piece of work; and those still to be drawn."""

    chance: random.Random
    orders: list[dict[str, Any]] = field(default_factory=list)
    hung: list[tuple[Submission, str, bool]] = field(default_factory=list)

    def hang(
        self,
        submission: Submission,
        task: Task,
        rows: list[TaskPrompt],
        given: list[str],
        mistake: str,
        left: int,
    ) -> None:
        """Choose a picture for *submission*, or none; *left*: days out since then."""
        if submission.by_staff:
            self.hung.append((submission, "page-halves" if left < 5 else "page-adding", False))
            return
        lines = written(rows, given)
        if left == 0 and lines and len(self.orders) < DRAWN_TODAY:
            self.hung.append((submission, self.order_page(lines), True))
            return
        if self.chance.random() < (SHARE_LATELY if left < LATELY else SHARE_BEFORE):
            usual = [name for name in PICTURES[task.kind] if left <= RECENT or "clip" not in name]
            name = WRONG_PICTURES.get(mistake) or self.chance.choice(usual)
            self.hung.append((submission, name, left <= RECENT))

    def hang_clip(self, submission: Submission) -> None:
        """Hang a clip with *submission*, instead of what hangs there."""
        self.hung = [each for each in self.hung if each[0] is not submission]
        self.hung.append((submission, "clip-8", True))

    def order_page(self, lines: list[str]) -> str:
        """Order a page with *lines* on it, and give its name."""
        name = f"today-{len(self.orders)}"
        self.orders.append(
            {"name": name, "draw": "page", "lines": lines, "rings": (), "turned": name[-1] == "1"}
        )
        return name

    def store(self, folder: Path) -> None:
        """Put the pieces, drawn in *folder*, into the store."""
        arrived = [piece_just_in(each, folder, name) for each, name, recent in self.hung if recent]
        Piece.objects.bulk_create(arrived)
        ready = [(each, name) for each, name, recent in self.hung if not recent]
        pieces = [piece_ready(each, folder / f"{name}.jpg") for each, name in ready]
        Piece.objects.bulk_create(pieces)
        names = [name for _submission, name in ready]
        Rendition.objects.bulk_create(renditions(zip(pieces, names, strict=True), folder))


def written(rows: list[TaskPrompt], given: list[str]) -> list[str]:
    """Give up to three number sentences as a child would write them, with the answers *given*."""
    filled = [
        row.sentence.replace("□", text).replace("\N{NO-BREAK SPACE}", " ").replace("−", "-")
        for row, text in zip(rows, given, strict=False)
    ]
    return [line for line in filled if set(line) <= SIGNS and len(line) < 12][:3]


def piece_just_in(submission: Submission, folder: Path, name: str) -> Piece:
    """Store a picture as it arrived, and give its piece, not saved yet."""
    path = next(folder.glob(f"{name}.*"))
    content = path.read_bytes()
    incoming = Incoming()
    incoming.write(content)
    return Piece(
        submission=submission,
        kind=recognise(content).kind,
        original=incoming.keep(),
        sha256=incoming.sha256,
        size=incoming.size,
        arrived_at=submission.sent_at,
    )


def piece_ready(submission: Submission, path: Path) -> Piece:
    """Return the piece of a photo that was made ready long ago, not saved yet."""
    return Piece(
        submission=submission,
        kind=Piece.Kind.PHOTO,
        state=Piece.State.READY,
        sha256=sha256_of(path),
        size=path.stat().st_size,
        arrived_at=submission.sent_at,
        attempts=1,
    )


def renditions(pieces: Iterable[tuple[Piece, str]], folder: Path) -> list[Rendition]:
    """Store the clean copies of *pieces*, and give their rows, not saved yet."""
    sizes = {"display": (1280, 960), "thumb": (320, 240)}
    made = []
    for piece, name in pieces:
        for role, path in (
            ("display", folder / f"{name}.jpg"),
            ("thumb", folder / f"{name}-thumb.jpg"),
        ):
            copy, digest = folder / "copy", sha256_of(path)
            shutil.copyfile(path, copy)
            made.append(
                Rendition(
                    piece=piece,
                    role=role,
                    name=store.adopt(copy, digest),
                    media_type="image/jpeg",
                    size=path.stat().st_size,
                    sha256=digest,
                    width=sizes[role][0],
                    height=sizes[role][1],
                )
            )
    return made


def sha256_of(path: Path) -> str:
    """Return the SHA-256 of a drawn file."""
    return hashlib.sha256(path.read_bytes()).hexdigest()
