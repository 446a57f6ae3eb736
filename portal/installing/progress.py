"""What is seen while libraries are fetched: a bar on a terminal, a line now and then elsewhere."""

import re
import shutil
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import TextIO

FILE = re.compile(r"(?:Downloading|Using cached|Processing) (?P<file>\S+\.(?:whl|tar\.gz))(?:\s|$)")
SIZE = re.compile(r"\((?P<number>[\d.]+) (?P<unit>bytes|kB|MB)\)")
IN_MEGABYTES = {"bytes": 1e-6, "kB": 1e-3, "MB": 1.0}
LINE_EACH = 5.0  # seconds between two lines where there is no terminal


@dataclass
class Told:
    """What pip's lines have told so far: libraries looked up, fetched, and to be put in place."""

    looked_up: set[str] = field(default_factory=set)
    fetched: set[str] = field(default_factory=set)
    in_order: list[str] = field(default_factory=list)
    now: str = "asking the package index"
    megabytes: float = 0.0

    def hear(self, line: str) -> None:
        """Take in one *line* that pip has printed."""
        words = line.split()
        if line.startswith(("Collecting ", "Requirement already satisfied: ")):
            name = re.split(r"[\[(<>=!~;@ ]", line.split(": ")[-1].removeprefix("Collecting "))[0]
            self.looked_up.add(name)
            self.now = f"looking up {name}"
        elif "Retrying (" in line:
            self.now = "the line does not answer, trying again"
        elif line.startswith("Installing collected packages: "):
            self.in_order = [word.rstrip(",") for word in words[3:]]
        elif (found := FILE.search(line)) and "build" not in words[0].lower():
            name = Path(found["file"]).name.split("-")[0]
            self.fetched.add(name)
            self.megabytes += megabytes_of(line, found["file"])
            self.now = f"fetching {name}"


def megabytes_of(line: str, file: str) -> float:
    """Return the size that *line* tells of, or that of the local *file* it names; 0 if neither."""
    if size := SIZE.search(line):
        return float(size["number"]) * IN_MEGABYTES[size["unit"]]
    return Path(file).stat().st_size / 1e6 if Path(file).is_file() else 0.0


class Progress:
    """Shows how far *expected* libraries are, reading what pip has written to *log*."""

    def __init__(self, bar: "Bar", expected: int, log: Path, in_place: Callable[[], int]) -> None:
        self.bar, self.expected, self.log, self.in_place = bar, expected, log, in_place
        self.told, self.read, self.before = Told(), 0, in_place()

    def look(self) -> None:
        """Read what is new in the log, and show it."""
        with self.log.open(encoding="utf-8", errors="replace") as log:
            log.seek(self.read)
            while (line := log.readline()).endswith("\n"):
                self.told.hear(line.strip())
                self.read = log.tell()
        told = self.told
        if told.in_order:
            total, done = len(told.in_order), self.in_place() - self.before
            now = told.in_order[max(0, min(done, total - 1))]
            self.bar.show(0.5 + done / total / 2, f"{done} of {total} in place, now {now}")
        else:
            done = len(told.fetched)
            total = max(self.expected, done, len(told.looked_up))
            self.bar.show(done / total / 2, f"{done} of {total} fetched, now {told.now}")


class Bar:
    """Draws on *stream*: the same line again on a terminal, else a line now and then."""

    def __init__(self, stream: TextIO) -> None:
        self.stream, self.began = stream, time.monotonic()
        self.on_terminal = stream.isatty()
        self.last_at, self.last = 0.0, ""

    @property
    def seconds(self) -> float:
        """Return the seconds since it was begun."""
        return time.monotonic() - self.began

    def show(self, part: float, words: str) -> None:
        """Show that *part* (0 to 1) is done, and *words*."""
        if self.on_terminal:
            full = round(20 * min(1.0, part))
            text = f"[{'#' * full}{'.' * (20 - full)}] {self.seconds:3.0f} s  {words}"
            width = shutil.get_terminal_size().columns - 1
            self.stream.write(f"\r{text[:width]:<{width}}")
        elif words != self.last and self.seconds - self.last_at >= LINE_EACH:
            self.stream.write(f"{self.seconds:.0f} s: {words}\n")
            self.last_at, self.last = self.seconds, words
        self.stream.flush()

    def clear(self) -> None:
        """Take the bar away again, so that a sentence can stand there."""
        if self.on_terminal:
            self.stream.write(f"\r{'':<{shutil.get_terminal_size().columns - 1}}\r")
            self.stream.flush()
