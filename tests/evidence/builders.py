"""Plans, files and submissions for tests about what families send."""

import datetime as dt
import hashlib
import io
import tempfile
from pathlib import Path

from django.conf import settings
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import connection
from django.test import Client
from django.urls import reverse
from django.utils import timezone
from PIL import Image

from evidence.models import Piece, Rendition, Submission
from evidence.storage import store
from portal.people.models import Child, Home, SchoolClass
from tasks.models import DayPlan, Task, TaskPrompt
from tasks.numberwork import make_prompts
from tests.evidence.storage.buckets import names_in_bucket
from tests.village import MONDAY, Village


def make_plan(school_class: SchoolClass, date: dt.date = MONDAY, prompts: int = 4) -> DayPlan:
    """Make a day plan that went out, with doubling as its main task."""
    plan = DayPlan.objects.create(
        school_class=school_class, date=date, goes_out_at=timezone.now() - dt.timedelta(hours=1)
    )
    task = Task.objects.create(
        day_plan=plan, part="main_task", kind="doubling", within=10, count=prompts, seed=1
    )
    drawn = make_prompts("doubling", 10, prompts, 1)
    TaskPrompt.objects.bulk_create(
        TaskPrompt.of(task, position, prompt) for position, prompt in enumerate(drawn)
    )
    return plan


def jpeg(colour: str = "teal", size: tuple[int, int] = (64, 48)) -> bytes:
    """Draw a small JPEG photo; each colour gives other bytes."""
    out = io.BytesIO()
    Image.new("RGB", size, colour).save(out, "JPEG")
    return out.getvalue()


def upload(content: bytes, name: str = "image.jpg", kind: str = "image/jpeg") -> SimpleUploadedFile:
    """Return *content* as a browser would send it."""
    return SimpleUploadedFile(name, content, kind)


def form(*files: SimpleUploadedFile, **more: object) -> dict[str, object]:
    """Return the fields of the sending form."""
    return {"form_key": "a" * 24, "pieces": list(files), "note": "", "whole": "yes", **more}


def send_address(child: Child, date: dt.date = MONDAY) -> str:
    """Return the address of the sending page."""
    return reverse("evidence:send", args=[child.pk, date])


def sent(client: Client, child: Child, *files: SimpleUploadedFile, **more: object) -> Submission:
    """Send a form as a browser does, and give the submission it made."""
    response = client.post(send_address(child), form(*files, **more))
    assert response.status_code == 302, response.content.decode()
    return Submission.objects.get(token=response.url.rstrip("/").rsplit("/", 1)[1])


def make_submission(
    village: Village, child: Child | None = None, home: Home | None = None, **more: object
) -> Submission:
    """Make a submission for Aisha from her first home, unless told otherwise."""
    child = child or village.aisha
    plan = DayPlan.objects.filter(school_class=child.school_class, date=MONDAY).first()
    return Submission.objects.create(
        child=child,
        home=home or village.first_home,
        day_plan=plan or make_plan(child.school_class),
        sent_by=village.people["family"],
        **more,
    )


def stored(content: bytes, area: str = store.ORIGINALS) -> str:
    """Put *content* into the store and give its name."""
    incoming = store.Incoming()
    incoming.write(content)
    name = incoming.keep()
    if area == store.ORIGINALS:
        return name
    return store.adopt(store.path_of(name), hashlib.sha256(content).hexdigest())


def make_arrived_piece(submission: Submission, content: bytes | None = None, **more) -> Piece:
    """Make a piece that waits to be prepared, its original in the store."""
    content = content or jpeg()
    return Piece.objects.create(
        submission=submission,
        kind=more.pop("kind", Piece.Kind.PHOTO),
        original=stored(content),
        sha256=hashlib.sha256(content).hexdigest(),
        size=len(content),
        **more,
    )


def make_ready_piece(
    submission: Submission,
    content: bytes = b"",
    role: str = "display",
    media_type: str = "image/jpeg",
    kind: str = "photo",
    position: int = 0,
) -> Piece:
    """Make a piece that is ready, with *content* as its file in *role*, and for a photo a thumb."""
    piece = Piece.objects.create(
        submission=submission,
        kind=kind,
        position=position,
        state=Piece.State.READY,
        sha256="0" * 64,
        size=len(content),
    )
    for each in {role, "thumb"} if kind == "photo" else {role}:
        Rendition.objects.create(
            piece=piece,
            role=each,
            name=stored(content or jpeg(), store.RENDITIONS),
            media_type=media_type,
            size=len(content or jpeg()),
            sha256=hashlib.sha256(content or jpeg()).hexdigest(),
        )
    return piece


def stored_bytes(name: str) -> bytes:
    """Return the bytes of *name*, wherever it lies."""
    file = store.open_file(name)
    try:
        return b"".join(file.blocks(0, file.size))
    finally:
        file.close()


def spoil(name: str, content: bytes) -> None:
    """Put other bytes where *name* lies, behind the portal's back."""
    with tempfile.NamedTemporaryFile() as file:
        file.write(content)
        file.flush()
        store.put_back(Path(file.name), name)


def files_in_store() -> list[Path]:
    """List every file of the store, whatever it is and wherever it lies."""
    root = Path(settings.MEDIA_ROOT)
    on_disk = [path for path in root.rglob("*") if path.is_file()]
    return [*on_disk, *(root / name for name in names_in_bucket())]


def at_once() -> int:
    """Return how many may work at once: SQLite in memory, as in tests, lets in one at a time."""
    return 8 if connection.vendor == "postgresql" else 1
