"""Whether database, files and backups are as they should be."""

import shutil
import stat
from collections.abc import Iterator
from pathlib import Path

from django.conf import settings
from django.db import connection
from django.db.migrations.executor import MigrationExecutor
from django.utils import timezone

from portal.operations import clock
from portal.operations.checks.lines import Line, bad, in_words, judged, look, ok
from portal.operations.models import Mark

DAY = 86_400.0
LITTLE, VERY_LITTLE = 5_000_000_000, 1_000_000_000  # bytes; one clip on its way takes 0.4 of them
CLOCKS_APART = 5.0  # seconds
OTHERS = stat.S_IRWXG | stat.S_IRWXO  # what a mode may let anybody but the owner do


def check_database() -> Iterator[Line]:
    """Yield whether the database answers, and is of this version's form."""
    with connection.cursor() as cursor:
        cursor.execute("SELECT 1")
    executor = MigrationExecutor(connection)
    left = executor.migration_plan(executor.loader.graph.leaf_nodes())
    if left:
        yield bad("database", f"{len(left)} migrations are not applied. Run: manage.py prepare")
    else:
        yield ok("database", f"{connection.vendor} answers and is up to date.")


def check_clock() -> Iterator[Line]:
    """Yield whether the clock has leapt, and whether machine and database agree on the time."""
    if not clock.is_plausible():
        yield bad("clock", clock.doubt())
    if connection.vendor != "postgresql":
        yield ok("clock", "The database lives by this machine's clock.")
        return
    with connection.cursor() as cursor:
        cursor.execute("SELECT clock_timestamp()")
        apart = abs((cursor.fetchone()[0] - timezone.now()).total_seconds())
    words = f"This machine and the database are {apart:.1f} seconds apart."
    if apart > CLOCKS_APART:
        yield bad("clock", f"{words} Set both by NTP.")
    else:
        yield ok("clock", words)


def check_storage() -> Iterator[Line]:
    """Yield whether files can be written and read back, and how much space is left."""
    for folder in {Path(settings.DATA_DIR), Path(settings.MEDIA_ROOT)}:
        probe = folder / "doctor-was-here"
        try:
            folder.mkdir(mode=0o700, parents=True, exist_ok=True)
            probe.write_bytes(b"well")
            if probe.read_bytes() != b"well":
                yield bad("storage", f"What is written to {folder} does not come back.")
                continue
            probe.unlink()
        except OSError as error:
            yield bad("storage", f"{folder} cannot be written: {error.strerror}.")
            continue
        yield from check_space(folder)


def check_modes() -> Iterator[Line]:
    """Yield whether other users of this machine can get at a file or folder of the data."""
    data = Path(settings.DATA_DIR)
    if not data.stat().st_mode & OTHERS:
        yield ok("modes", f"{data} is for the portal's own user alone.")
        return
    open_to_others = [each for each in data.rglob("*") if is_open_to_others(each)]
    words = f"Other users of this machine can look into {data}"
    hint = f"Run: chmod -R go= {data}"
    if open_to_others:
        some = ", ".join(str(each.relative_to(data)) for each in open_to_others[:3])
        count = len(open_to_others)
        yield bad("modes", f"{words}, and {count} things there are open to them: {some}. {hint}")
    else:
        yield look("modes", f"{words}, but nothing in it is open to them. {hint}")


def is_open_to_others(path: Path) -> bool:
    """Whether the mode of *path* lets anybody but its owner do anything; no for what is gone."""
    try:
        mode = path.lstat().st_mode
    except FileNotFoundError:
        return False
    return bool(mode & OTHERS) and not stat.S_ISLNK(mode)


def check_space(folder: Path) -> Iterator[Line]:
    """Yield how much space is left where *folder* is."""
    free = shutil.disk_usage(folder).free
    words = f"{folder} can be written; {free / 1e9:.1f} GB are free."
    if free < VERY_LITTLE:
        yield bad("storage", f"{words} Families will soon not be able to send: make room.")
    elif free < LITTLE:
        yield look("storage", f"{words} Make room.")
    else:
        yield ok("storage", words)


def check_upkeep() -> Iterator[Line]:
    """Yield when the last backup, drill and scrub went well."""
    ages = Mark.ages()
    for name, never, command in (
        (Mark.Name.BACKUP, bad, "backup"),
        (Mark.Name.DRILL, look, "restore --drill"),
        (Mark.Name.SCRUB, look, "scrub"),
    ):
        about = name.label
        if name not in ages:
            yield never(about, f"Never done. Run: manage.py {command}, and have it run by itself.")
            continue
        words = f"Last went well {in_words(ages[name])} ago."
        look_at = 2 * DAY if name == Mark.Name.BACKUP else 8 * DAY
        bad_at = 8 * DAY if name == Mark.Name.BACKUP else 32 * DAY
        line = judged(ages[name], about, words, look_at=look_at, bad_at=bad_at)
        yield (
            line
            if ages[name] <= look_at
            else Line(line.level, about, f"{words} See why it runs no more.")
        )
