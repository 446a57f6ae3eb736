"""Trying a backup out: restored for real, beside the portal, and thrown away again."""

import os
import secrets
import shutil
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import mkdtemp
from urllib.parse import urlsplit

from django.conf import settings
from django.db import OperationalError, ProgrammingError, connection

from portal.operations.backup.finished import Backup, BackupError
from portal.operations.backup.restore import Restoring
from portal.operations.backup.sealing import Identities
from portal.operations.models import Mark


def drill(backup: Backup, identities: Identities | None, say: Callable[[str], None]) -> None:
    """Restore *backup* into a folder and a database of its own. Raises as Restoring.run does."""
    scratch = Path(mkdtemp(prefix="kitchen-counter-drill-"))
    try:
        with scratch_database() as environment:
            Restoring(backup, scratch, identities, say, environment).run()
    finally:
        shutil.rmtree(scratch, ignore_errors=True)
    Mark.make(Mark.Name.DRILL)


@contextmanager
def scratch_database() -> Iterator[dict[str, str]]:
    """Return an environment whose database is a new one, which is dropped afterwards.

    Its files lie in a folder, wherever the portal's own do: nothing of those is touched.
    """
    variables = ("DATABASE_URL", "STORAGE_URL")
    named = {*variables, *(f"{name}_FILE" for name in variables)}
    environment = {name: value for name, value in os.environ.items() if name not in named}
    if connection.vendor == "sqlite":
        yield environment
        return
    name = f"drill_{secrets.token_hex(6)}"
    quoted = connection.ops.quote_name(name)
    try:
        with connection.cursor() as cursor:
            cursor.execute(f"CREATE DATABASE {quoted}")
    except (ProgrammingError, OperationalError) as error:
        raise BackupError(
            f"A drill needs a database of its own, and could not make one ({error}). Run it on "
            "another machine, or let the role of DATABASE_URL make some: ALTER ROLE … CREATEDB."
        ) from error
    try:
        address = urlsplit(settings.DATABASE_URL)._replace(path=f"/{name}").geturl()
        yield environment | {"DATABASE_URL": address}
    finally:
        with connection.cursor() as cursor:
            cursor.execute(f"DROP DATABASE {quoted}")
