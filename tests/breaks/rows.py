"""The break rows: for each promise, a small patch that takes its protection away."""

import tomllib
from pathlib import Path
from typing import NamedTuple

HERE = Path(__file__).parent


class Row(NamedTuple):
    """One protection, how it is taken away, and the tests that have to turn red then.

    `old` stands exactly once in the file at `path` (from the root of the tree); `new` takes its
    place. `tests` are named as path::function.
    """

    promise: str
    path: str
    old: str
    new: str
    tests: tuple[str, ...]

    @property
    def name(self) -> str:
        """The row as a line of the account names it."""
        said = " ".join(self.old.split())
        return f"{self.promise} {self.path}: {said if len(said) < 60 else said[:57] + '...'}"


class CannotBreakError(Exception):
    """The text to take away is not there, or not just once, or what is left is no Python."""


def all_rows(folder: Path = HERE) -> list[Row]:
    """Read the rows of every table in *folder*, in the order in which they stand there."""
    return [
        Row(promise, row["file"], row["old"], row["new"], tuple(row["tests"]))
        for path in sorted(folder.glob("*.toml"))
        for promise, rows in tomllib.loads(path.read_text(encoding="utf-8")).items()
        if isinstance(rows, list)
        for row in rows
    ]


def broken(row: Row, text: str) -> str:
    """Return *text*, of the file of *row*, without the protection. Raises CannotBreakError."""
    if (found := text.count(row.old)) != 1:
        raise CannotBreakError(f"the text to take away stands there {found} times")
    left = text.replace(row.old, row.new)
    if row.path.endswith(".py"):
        try:
            compile(left, row.path, "exec")
        except SyntaxError as error:
            raise CannotBreakError(f"what is left is no Python: {error.msg}") from error
    return left
