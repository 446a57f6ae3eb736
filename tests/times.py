"""How long each file of tests took: which come first, what a run will take, what is quick."""

import json
from collections.abc import Iterable
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
# By file: how many tests, and their seconds on one quiet core, as `--keep-times` wrote them.
KEPT = ROOT / "tests" / "times.json"
# Seconds to start and collect, and what a file takes for each test that nobody has timed.
START, UNTIMED = 20.0, 0.2
QUICK = 70.0  # seconds of tests on each core that `--quick` chooses

Times = dict[str, tuple[int, float]]


def read() -> Times:
    """Give what was kept, by the file's path below the root."""
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


def for_each_test(times: Times, name: str) -> float:
    """Give the seconds that a test of the file *name* takes."""
    tests, seconds = times.get(name, (1, UNTIMED))
    return seconds / tests


def below(times: Times, paths: Iterable[str]) -> Times:
    """Give the times of the files that are, or are below, one of *paths*."""
    chosen = [path.split("::")[0].rstrip("/") for path in paths]
    return {
        name: time
        for name, time in times.items()
        if any(name == path or name.startswith(f"{path}/") for path in chosen)
    }


def expected(times: Times, cores: int) -> str:
    """Say how long *times* will take on *cores* cores.

    >>> expected({"tests/test_a.py": (600, 2800.0)}, 2)
    '600 tests, about 24 minutes on 2 cores'
    """
    tests = sum(tests for tests, _seconds in times.values())
    work = sum(seconds for _tests, seconds in times.values())
    longest = max((seconds for _tests, seconds in times.values()), default=0.0)
    minutes = round((START + max(work / cores, longest)) / 60) or 1
    cores_said = "one core" if cores == 1 else f"{cores} cores"
    return f"{tests:,} tests, about {minutes} minute{'s' * (minutes > 1)} on {cores_said}"


def quickest(counts: dict[str, int], times: Times, cores: int) -> set[str]:
    """Choose files for `--quick`: those whose tests are the shortest, while there is time for them.

    counts: how many tests of each file could be run.
    """
    left, chosen = QUICK * cores, set()
    for name in sorted(counts, key=lambda name: (for_each_test(times, name), name)):
        left -= counts[name] * for_each_test(times, name)
        if left < 0:
            break
        chosen.add(name)
    return chosen
