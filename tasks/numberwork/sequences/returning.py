"""When kinds that were met come back for quick recall."""

from __future__ import annotations

from collections.abc import Iterable

from tasks.numberwork.kinds import EVERY_KIND
from tasks.numberwork.prompt import CORE
from tasks.numberwork.sequences.ladder import SmallStep

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
        self._mains: set[str] = set()
        recalled = [kind for kind in known if not EVERY_KIND[kind].one_number]
        for day, kind in enumerate(dict.fromkeys(recalled), start=1):
            self._times[kind], self._due[kind], self._depth[kind] = 1, day, CORE

    def on(self, day: int, step: SmallStep) -> tuple[str, str]:
        """Return kind and depth of the recall of a day whose main task is *step*.

        The kind longest due comes back; not that of the main task on its own first day, while
        there is another. One that is new in the main task is due the day after.
        """
        is_new = step.kind not in self._mains
        ready = [name for name in self._due if not (is_new and name == step.kind)] or [*self._due]
        kind = min(ready, key=lambda name: self._due[name], default=step.kind)
        self._mains.add(step.kind)
        depth = self._depth.get(kind, step.depth)
        times = self._times.get(kind, 0)
        self._due[kind] = day + GAPS[min(times, len(GAPS) - 1)]
        self._times[kind] = times + 1
        if step.kind not in self._due and not EVERY_KIND[step.kind].one_number:
            self._due[step.kind], self._times[step.kind] = day + GAPS[0], 1
        self._depth[step.kind] = step.depth
        return kind, depth
