"""How long each file of tests took: which come first, what a run will take, what is quick."""

import json
from collections.abc import Iterable
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
# By file: how many tests, and their seconds on one quiet core, as `--keep-times` wrote them.
KEPT = ROOT / "tests" / "times.json"
# Seconds to start and collect, and what a file takes for each test that nobody has timed.
START, UNTIMED = 20.0, 0.2
QUICK = 65.0  # seconds of tests that `--quick` chooses for each core

Times = dict[str, tuple[int, float]]


def read() -> Times:
    """Return what was kept, by the file's path below the root."""
    return {
        name: (tests, seconds) for name, (tests, seconds) in json.loads(KEPT.read_text()).items()
    }


def write(times: Times) -> None:
    """Keep *times*, one file a line."""
    lines = [
        f"  {json.dumps(name)}: [{tests}, {seconds:.1f}]"
        for name, (tests, seconds) in sorted(times.items())
    ]
    KEPT.write_text("{\n" + ",\n".join(lines) + "\n}\n")


def keep(new: Times) -> None:
    """Keep *new* times, but those of a file of which only a part was run."""
    kept = read()
    write(kept | {name: time for name, time in new.items() if time[0] >= kept.get(name, (0,))[0]})


def for_each_test(times: Times, name: str) -> float:
    """Return the seconds that a test of the file *name* takes."""
    tests, seconds = times.get(name, (1, UNTIMED))
    return max(seconds, 0.01) / tests


def below(times: Times, paths: Iterable[str]) -> Times:
    """Return the times of the files that are, or are below, one of *paths*."""
    chosen = [path.split("::")[0].rstrip("/") for path in paths]
    return {
        name: time
        for name, time in times.items()
        if any(name == path or name.startswith(f"{path}/") for path in chosen)
    }


def expected(times: Times, cores: int) -> str:
    """Say how long *times* will take on *cores* cores.

    >>> expected({"test_a.py": (400, 1400.0), "test_b.py": (200, 1400.0)}, 2)
    '600 tests, about 24 minutes on 2 cores'
    """
    if not times:
        return "nobody has timed these tests"
    tests = sum(tests for tests, _seconds in times.values())
    work = sum(seconds for _tests, seconds in times.values())
    longest = max((seconds for _tests, seconds in times.values()), default=0.0)
    minutes = round((START + max(work / cores, longest)) / 60) or 1
    return (
        f"{tests:,} test{'s' * (tests != 1)}, about {minutes} minute{'s' * (minutes > 1)} "
        f"on {cores} core{'s' * (cores > 1)}"
    )


def quick_share(counts: dict[str, int], times: Times, cores: int) -> dict[str, int]:
    """Choose how many tests of each file `--quick` runs: all files get the same time, at most.

    counts: how many tests of each file could be run.
    >>> quick_share({"a": 3, "b": 100}, {"a": (3, 0.3), "b": (100, 1000.0)}, 1)
    {'a': 3, 'b': 6}
    """

    def within(seconds: float) -> dict[str, int]:
        return {
            name: min(count, int(seconds / for_each_test(times, name)))
            for name, count in counts.items()
        }

    least, most = 0.0, QUICK * cores
    for _half in range(30):
        middle = (least + most) / 2
        taken = sum(each * for_each_test(times, name) for name, each in within(middle).items())
        least, most = (middle, most) if taken <= QUICK * cores else (least, middle)
    return within(least)
