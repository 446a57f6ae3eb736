"""How an upload ends without becoming a piece: refused, or left lying too long."""

import datetime as dt
import time
from pathlib import Path

from django.conf import settings
from django.utils import timezone

from evidence.storage import partial_files
from evidence.uploads.tus.upload import Upload

ROWS_KEPT = dt.timedelta(days=1)  # after its end, an upload still says what became of it
AT_ONCE = 100
ORPHAN_AFTER = 24 * 60 * 60.0  # seconds


def refuse(upload: Upload, words: str) -> None:
    """End *upload*, so that whoever asks again is told *words*; its bytes are not wanted."""
    drop(upload, Upload.State.REFUSED, words)


def drop(upload: Upload, state: str, words: str = "") -> None:
    """Close *upload* and delete its bytes."""
    name = upload.file
    if upload.close(state, words):
        partial_files.remove(name)


def sweep_uploads() -> None:
    """End uploads that nobody went on with, forget old ones, and delete bytes that are nobody's."""
    for upload in Upload.objects.expired()[:AT_ONCE]:
        drop(upload, Upload.State.ENDED)
    ended = Upload.objects.exclude(state=Upload.State.OPEN)
    ended.filter(expires_at__lt=timezone.now() - ROWS_KEPT).delete()
    clear_orphans()


def clear_orphans(older_than: float = ORPHAN_AFTER) -> int:
    """Delete growing files that no open upload speaks of, and give how many."""
    place = Path(settings.MEDIA_ROOT) / partial_files.AREA
    limit = time.time() - older_than
    if not place.is_dir():
        return 0
    old = [path for path in place.iterdir() if path.stat().st_mtime < limit]
    names = {path.name[: partial_files.NAME_LETTERS] for path in old}
    known = set(Upload.objects.filter(file__in=names).values_list("file", flat=True))
    for name in names - known:
        partial_files.remove(name)
    return len(names - known)
