"""The copy of a whole school, to move to another portal or to keep: a folder for each child."""

import os
import zipfile
from pathlib import Path

from portal.data_protection.data_export.writing import Progress, as_json, put_in
from portal.data_protection.hooks import Scope, school_parts
from portal.people.models import Child, School


def write_school(school: School, target: Path, progress: Progress) -> int:
    """Write all of *school* to the new file *target*, on the disk on return; give its bytes.

    *progress* is told how many children are done, and of how many. Raises OSError, with nothing
    left. Names stay in it: the school moves its own records.
    """
    handle = os.open(target, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600)
    children = list(Child.objects.filter(school=school).order_by("pk"))
    try:
        with os.fdopen(handle, "wb") as file:
            with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as zipped:
                own = {section.name: section.rows for section in school_parts(school)}
                zipped.writestr("school.json", as_json(own))
                for done, child in enumerate(children, start=1):
                    scope = Scope(child, to_be_handed_out=False)
                    put_in(zipped, scope, f"children/{child.pk}/", lambda _done, _most: None)
                    progress(done, len(children))
            file.flush()
            os.fsync(file.fileno())
            return file.tell()
    except BaseException:
        target.unlink(missing_ok=True)
        raise
