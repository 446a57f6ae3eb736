"""Draws the demo's photos and clips in a process of its own, while the rows are being made.

    python -m assessment.demo.drawing.studio FOLDER < orders.json

An order is {"name": …, "draw": "page" | "plates" | "row" | "shapes" | "clip", …what it takes}.
"""

import itertools
import json
import random
import subprocess
import sys
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from assessment.demo.story import TABLES
from portal.supervisor.processes import follow_parent

ROOT = Path(__file__).resolve().parents[3]
THUMB = 320


class Studio:
    """A drawing process: given its orders at once, waited for at the end."""

    def __init__(self, folder: Path, orders: Iterable[Mapping[str, Any]]) -> None:
        """Start drawing *orders* into *folder*, each on the next of the tables."""
        folder.mkdir(parents=True, exist_ok=True)
        tables = itertools.cycle(TABLES)
        laid = [{"table": table, **each} for each, table in zip(orders, tables, strict=False)]
        command = [sys.executable, "-m", "assessment.demo.drawing.studio", str(folder)]
        self._process = subprocess.Popen(
            command, cwd=ROOT, stdin=subprocess.PIPE, text=True, preexec_fn=follow_parent
        )
        assert self._process.stdin is not None  # noqa: S101 - for the reader of types
        with self._process.stdin as orders_in:
            json.dump(laid, orders_in)

    def wait(self) -> None:
        """Wait until everything is drawn. Raises RuntimeError when something could not be."""
        if self._process.wait():
            raise RuntimeError("The demo's pictures could not be drawn: see the lines above.")


def draw(order: dict[str, Any], folder: Path) -> None:
    """Draw one picture as NAME.jpg with NAME-thumb.jpg, or one clip as NAME.mp4."""
    from assessment.demo.drawing import clips, photos

    asked = dict(order)
    name, what = asked.pop("name"), asked.pop("draw")
    turned = asked.pop("turned", False)
    if what == "clip":
        (folder / f"{name}.mp4").write_bytes(clips.sharing(**asked))
        return
    chance = random.Random(name)  # noqa: S311 - a picture, not a secret
    picture = getattr(photos, what)(**asked, chance=chance)
    (folder / f"{name}.jpg").write_bytes(photos.as_jpeg(picture, turned=turned))
    picture.thumbnail((THUMB, THUMB))
    (folder / f"{name}-thumb.jpg").write_bytes(photos.as_jpeg(picture))


if __name__ == "__main__":
    into = Path(sys.argv[1])
    for each in json.load(sys.stdin):
        draw(each, into)
