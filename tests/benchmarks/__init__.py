"""What `manage.py bench` measures: ratios and counts from one run, never seconds as a test."""

import gc
import statistics
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass


@dataclass(frozen=True)
class Figure:
    """One measured line. *most* or *least* is what it should hold; None: told, not held."""

    name: str
    value: float
    unit: str
    most: float | None = None
    least: float | None = None

    @property
    def holds(self) -> bool:
        """Whether the value is within what it should hold."""
        return (self.most is None or self.value <= self.most) and (
            self.least is None or self.value >= self.least
        )


def ratio(work: Callable[[], object], floor: Callable[[], object], runs: int = 7) -> float:
    """Return how many times as long *work* takes as *floor*: the median of pairs run in turn."""
    work(), floor()
    return statistics.median(seconds(work) / seconds(floor) for _run in range(runs))


def seconds(work: Callable[[], object]) -> float:
    """Return how long *work* takes, in seconds."""
    gc.collect()
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def a_second(work: Callable[[], int], at_least: float = 0.2) -> float:
    """Return how many things *work* makes in a second; it says how many it made each time."""
    made, start = 0, time.perf_counter()
    while time.perf_counter() - start < at_least:
        made += work()
    return made / (time.perf_counter() - start)


Measure = Callable[[], Iterator[Figure]]
