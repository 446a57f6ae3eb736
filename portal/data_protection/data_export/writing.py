"""Writing a copy: rows as JSON, a page that opens offline, and the files, in one zip."""

import hashlib
import json
import os
import zipfile
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from django.template.loader import render_to_string
from django.utils import timezone, translation

from portal.data_protection.data_export.redaction import Redactor
from portal.data_protection.hooks import CopyFile, Scope, Section, copy_parts
from portal.people.models import Child, School

Progress = Callable[[int, int], None]


class DamagedFileError(OSError):
    """A file is not, byte for byte, what its row says."""


@dataclass
class Gathered:
    """All that a copy will hold."""

    scope: Scope
    sections: list[Section] = field(default_factory=list)
    files: list[CopyFile] = field(default_factory=list)

    @classmethod
    def of(cls, scope: Scope) -> "Gathered":
        """Gather what the apps have; other children's names are taken out of what is handed out."""
        found = cls(scope)
        redactor = Redactor(names_to_take_out(scope))
        for part in copy_parts(scope):
            if isinstance(part, CopyFile):
                found.files.append(part)
            else:
                rows = [clean(row, redactor) for row in part.rows]
                found.sections.append(Section(part.name, part.title, rows))
        return found

    @property
    def counts(self) -> dict[str, int]:
        """Return how many rows each section has."""
        return {section.name: len(section.rows) for section in self.sections}

    def manifest(self) -> dict[str, Any]:
        """Say what is in the copy, so that it can be checked."""
        return {
            "child": self.scope.child.pk,
            "made_at": timezone.now().isoformat(),
            "of_one_home": self.scope.home is not None,
            "other_children_taken_out": self.scope.to_be_handed_out,
            "rows": self.counts,
            "files": [
                {"path": file.path, "sha256": file.sha256, "bytes": file.size}
                for file in self.files
            ],
        }


def clean(row: dict[str, Any], redactor: Redactor) -> dict[str, Any]:
    """Return *row* without names; paths of files hold none, and must stay as they are."""
    return {key: value if key == "files" else redactor.value(value) for key, value in row.items()}


def names_to_take_out(scope: Scope) -> list[str]:
    """Give the first names of the other children of the school, own brothers' and sisters' not."""
    if not scope.to_be_handed_out:
        return []
    others = Child.objects.filter(school=scope.child.school_id).exclude(pk=scope.child.pk)
    if scope.home:
        others = others.exclude(homes=scope.home)
    own = scope.child.first_name.casefold()
    return [name for name in others.values_list("first_name", flat=True) if name.casefold() != own]


def write_copy(scope: Scope, target: Path, progress: Progress = lambda done, most: None) -> int:
    """Write the copy of *scope* to the new file *target*, on the disk on return; give its bytes.

    *progress* is told how many files are done, and of how many. Raises OSError, with nothing left.
    """
    handle = os.open(target, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600)
    try:
        with os.fdopen(handle, "wb") as file:
            with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as zipped:
                put_in(zipped, scope, "", progress)
            file.flush()
            os.fsync(file.fileno())
            return file.tell()
    except BaseException:
        target.unlink(missing_ok=True)
        raise


def put_in(zipped: zipfile.ZipFile, scope: Scope, folder: str, progress: Progress) -> None:
    """Put the copy of *scope* into *zipped*, below *folder* ("" or ending in a stroke)."""
    gathered = Gathered.of(scope)
    progress(0, len(gathered.files))
    data = {section.name: section.rows for section in gathered.sections}
    zipped.writestr(f"{folder}data.json", as_json(data))
    zipped.writestr(f"{folder}manifest.json", as_json(gathered.manifest()))
    zipped.writestr(f"{folder}index.html", index_page(gathered))
    for done, file in enumerate(gathered.files, start=1):
        put_file(zipped, file, f"{folder}{file.path}")
        progress(done, len(gathered.files))


def as_json(data: object) -> str:
    """Write *data* so that people can read it too."""
    return json.dumps(data, indent=1, ensure_ascii=False)


def put_file(zipped: zipfile.ZipFile, file: CopyFile, path: str) -> None:
    """Put one file in, unpacked as it is: photos and clips are pressed already.

    Raises DamagedFileError when it is not what its row says.
    """
    entry = zipfile.ZipInfo(path, date_time=timezone.now().timetuple()[:6])
    entry.external_attr = 0o600 << 16
    found = hashlib.sha256()
    with zipped.open(entry, "w", force_zip64=True) as written:
        for block in file.blocks():
            found.update(block)
            written.write(block)
    if found.hexdigest() != file.sha256:
        raise DamagedFileError(f"{file.path} is not what its row says")


def index_page(gathered: Gathered) -> str:
    """Draw the page to open first: everything on it lies beside it."""
    child = gathered.scope.child
    school: School = child.school
    context = {
        "child": child,
        "school": school,
        "made_at": timezone.now().astimezone(school.zone),
        "of_one_home": gathered.scope.home is not None,
        "sections": [(section, list(lines(section))) for section in gathered.sections],
    }
    with translation.override("en-gb"):
        return render_to_string("data_export/copy_index.html", context)


def lines(section: Section) -> Iterator[tuple[list[tuple[str, Any]], list[str]]]:
    """Yield each row of *section* as words and values, and the files that belong to it."""
    for row in section.rows:
        fields = [
            (key.replace("_", " "), value)
            for key, value in row.items()
            if key != "files" and value not in ("", None, [])
        ]
        yield fields, row.get("files", [])
