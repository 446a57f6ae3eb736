"""Copies of the tree, in which protections are taken away one at a time."""

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from tests.breaks.rows import Row, broken

LEFT_OUT = (".venv", "var", ".git", "__pycache__", ".*_cache", ".hypothesis", "static-collected")


def copy_tree(root: Path, to: Path) -> Path:
    """Copy the tree at *root* to *to*, its environment by a link; give *to*."""
    shutil.copytree(root, to, ignore=shutil.ignore_patterns(*LEFT_OUT), symlinks=True)
    if (root / ".venv").exists():
        (to / ".venv").symlink_to((root / ".venv").resolve())
    return to


@contextmanager
def without_protection(tree: Path, row: Row) -> Iterator[None]:
    """Take the protection of *row* away in *tree* for a while. Raises CannotBreakError."""
    path = tree / row.path
    whole = path.read_text(encoding="utf-8") if path.is_file() else ""
    left = broken(row, whole)
    write(path, left)
    try:
        yield
    finally:
        write(path, whole)


def write(path: Path, text: str) -> None:
    """Write *text* to *path*, and drop what Python has kept of it compiled."""
    path.write_text(text, encoding="utf-8")
    for kept in path.parent.glob(f"__pycache__/{path.stem}.*"):
        kept.unlink()
