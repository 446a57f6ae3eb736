"""When kinds that were met come back for quick recall."""

from __future__ import annotations

from collections.abc import Iterable

from tasks.numberwork.prompt import CORE
from tasks.numberwork.sequences.routes import Step

GAPS = (1, 2, 4, 7)


class Returning:
    """Let each kind come back one, two, four and then every seven school days after it was met.

    Growing gaps and mixed kinds are a habit of good practice. No proven interval exists for
    children of this age: the studies there are were made with older pupils (Rohrer, Dedrick and
    Burgess 2014; Barzagar Nazari and Ebersbach 2019).
    """

    def __init__(self, known: Iterable[str]) -> None:
        self._times: dict[str, int] = {}
        self._due: dict[str, int] = {}
        self._depth: dict[str, str] = {}
        for day, kind in enumerate(dict.fromkeys(known), start=1):
            self._times[kind], self._due[kind], self._depth[kind] = 1, day, CORE

    def on(self, day: int, step: Step) -> tuple[str, str]:
        """Return kind and depth of the recall of a day whose main task is *step*.

        The kind longest due comes back, never the one of the main task where there is another.
        """
        others = [kind for kind in self._due if kind != step.kind]
        kind = min(others or [step.kind], key=lambda name: self._due.get(name, 0))
        depth = self._depth.get(kind, step.depth)
        self._meet(kind, day)
        self._meet(step.kind, day)
        self._depth[step.kind] = step.depth
        return kind, depth

    def _meet(self, kind: str, day: int) -> None:
        """Note that a kind was met and when it is due again."""
        times = self._times.get(kind, 0)
        self._due[kind] = day + GAPS[min(times, len(GAPS) - 1)]
        self._times[kind] = times + 1
