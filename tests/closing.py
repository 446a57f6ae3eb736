"""How a run of the tests begins and ends, and which tests a quick one leaves out.

At the end each reason for a skip stands once, then one line: passed, failed, skipped.
"""

import os
import time
from collections import Counter
from typing import Any

import hypothesis
import pytest
from _pytest.terminal import TerminalReporter

from tests import browsers, times, turns

# What no machine can be asked to have: skips for want of these fail no run.
NO_OLD_PYTHON = "no Python older than 3.11 on this machine"
OTHER_DATABASE = "only the other of SQLite and PostgreSQL can be asked this"
NOT_GIVEN = "files of other people's making are not here (SHARED_MEDIA names their folder)"
SLOW = "would take longer than two minutes: name a folder or file for more of it"
TIME_IS_UP = "were to be run, but this machine took longer over the others than expected"
QUICK_SECONDS = 100.0
TURN = "take their turn on another day (bash .ci/run --all takes them all)"
QUICK_EXAMPLES = 20


def pytest_addoption(parser: pytest.Parser) -> None:
    """Add the options of our own."""
    group = parser.getgroup("kitchen counter")
    group.addoption("--quick", action="store_true", help="two minutes, for a change in hand")
    said = "how long a quick run goes on beginning tests"
    group.addoption("--quick-seconds", type=float, default=QUICK_SECONDS, help=said)
    group.addoption("--part", metavar="1/3", help="those files whose turn it is today")
    group.addoption("--no-skips", action="store_true", help="a skipped test fails the run")
    group.addoption("--keep-times", action="store_true", help="renew tests/times.json")


class OneLine(TerminalReporter):
    """Pytest's own report, with one plain line at the end."""

    def summary_stats(self) -> None:
        """Close with the figures."""
        failed = len(self.stats.get("failed", [])) + len(self.stats.get("error", []))
        said = f"{self.count('passed')} passed, {failed} failed, {self.count('skipped')} skipped"
        self.write_line(said, bold=True, red=bool(failed), green=not failed)

    def count(self, outcome: str) -> int:
        """Return how many tests ended as *outcome*."""
        return len(self.stats.get(outcome, []))


@pytest.hookimpl(trylast=True)
def pytest_configure(config: pytest.Config) -> None:
    """Take the place of pytest's report, and give property tests all the time they need."""
    hypothesis.settings.register_profile("whole", deadline=None)
    hypothesis.settings.register_profile("quick", deadline=None, max_examples=QUICK_EXAMPLES)
    hypothesis.settings.load_profile("quick" if config.option.quick else "whole")
    theirs = config.pluginmanager.getplugin("terminalreporter")
    if theirs is not None:
        theirs.__class__ = OneLine  # as other plugins have set it up, but for its last line
    config.pluginmanager.register(Run(config), "kitchen-counter-run")


class Run:
    """One run of the tests: what is expected of it, what it leaves out and what it took."""

    def __init__(self, config: pytest.Config) -> None:
        """Begin, in the process that reports or in one of its workers."""
        self.config = config
        self.left_out: Counter[str] = Counter()
        self.seconds: Counter[str] = Counter()
        self.tests: Counter[str] = Counter()
        self.ends = float("inf")
        if config.option.quick:
            self.ends = time.monotonic() + config.option.quick_seconds

    @property
    def cores(self) -> int:
        """Return how many tests run at a time; a worker is told by its environment."""
        processes = getattr(self.config.option, "numprocesses", None)
        return int(os.environ.get("PYTEST_XDIST_WORKER_COUNT", processes or 1))

    def pytest_report_header(self) -> str:
        """Say what to expect."""
        if self.config.option.quick:
            return (
                "quick: as much as two minutes are enough for; what it leaves out stands at the end"
            )
        here = self.config.invocation_params.dir
        chosen = [os.path.relpath(here / path, times.ROOT) for path in self.config.args]
        narrowed = self.config.option.keyword or self.config.option.markexpr
        said = times.expected(times.below(times.read(), chosen), self.cores)
        return f"{said}{' at most' if narrowed else ''}; {browser_said()}"

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        """Put the longest files first, so that no core waits for the last; be quick if asked."""
        taken = times.read()
        items.sort(key=lambda item: -taken.get(file_of(item), (0, 0.0))[1])
        why: dict[str, str] = {}
        if self.config.option.part:
            why = waiting_their_turn(items, self.config.option.part)
        elif self.config.option.quick:
            why = reasons_to_leave_out(items, taken, self.cores)
            items.sort(key=lambda item: times.for_each_test(taken, file_of(item)))
        self.left_out.update(why.values())
        self.config.hook.pytest_deselected(items=[each for each in items if each.nodeid in why])
        items[:] = [each for each in items if each.nodeid not in why]

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtest_protocol(self) -> bool | None:
        """Leave a test out where two minutes are nearly over."""
        if time.monotonic() < self.ends:
            return None
        self.left_out[TIME_IS_UP] += 1
        return True

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        """Add up what each file takes."""
        name = os.path.relpath(self.config.rootpath / report.nodeid.split("::")[0], times.ROOT)
        self.seconds[name] += report.duration
        self.tests[name] += report.when == "call"

    @pytest.hookimpl(optionalhook=True)
    def pytest_testnodedown(self, node: Any) -> None:
        """Take over what a worker left out: all have chosen the same, each has had its own time."""
        theirs = Counter(getattr(node, "workeroutput", {}).get("left_out", {}))
        too_late = self.left_out[TIME_IS_UP] + theirs[TIME_IS_UP]
        self.left_out = theirs | Counter({TIME_IS_UP: too_late} if too_late else {})

    def pytest_sessionfinish(self, session: pytest.Session) -> None:
        """Hand on what was left out, keep the times, and fail a run that may have no skips."""
        if hasattr(self.config, "workeroutput"):
            self.config.workeroutput["left_out"] = dict(self.left_out)
            return
        if self.config.option.keep_times:
            times.keep({name: (self.tests[name], self.seconds[name]) for name in self.tests})
        if self.config.option.no_skips and self.not_allowed():
            session.exitstatus = pytest.ExitCode.TESTS_FAILED

    def skips(self) -> Counter[str]:
        """Count the skipped tests by the reason they gave."""
        reports = self.config.pluginmanager.getplugin("terminalreporter").stats.get("skipped", [])
        return Counter(report.longrepr[2].removeprefix("Skipped: ") for report in reports)

    def not_allowed(self) -> int:
        """Count the skips that fail a run without skips: not what nobody has given."""
        may = {NO_OLD_PYTHON, OTHER_DATABASE}
        if "SHARED_MEDIA" not in os.environ:
            may.add(NOT_GIVEN)
        return sum(times for why, times in self.skips().items() if why not in may)

    def pytest_terminal_summary(self, terminalreporter: TerminalReporter) -> None:
        """List what was not run, each reason once."""
        for title, listed in (("left out", self.left_out), ("skipped", self.skips())):
            if listed:
                terminalreporter.section(title)
            for why, count in listed.most_common():
                terminalreporter.write_line(f"{count:5} {why}")
        if self.config.option.no_skips and self.not_allowed():
            said = f"{self.not_allowed()} skipped, where none may be (--no-skips)"
            terminalreporter.write_line(said, red=True)


def browser_said() -> str:
    """Say which browser there is."""
    there = browsers.find()
    said = "none here: the first test that needs one asks Playwright to install it, 170 MB or so"
    return f"browser: {there[0] if there else said}"


def file_of(item: pytest.Item) -> str:
    """Return the path of the file of *item*, below the root."""
    return os.path.relpath(item.path, times.ROOT)


def waiting_their_turn(items: list[pytest.Item], part: str) -> dict[str, str]:
    """Return why those of *items* are left out whose turn is on another day, by their id."""
    files = list(dict.fromkeys(map(file_of, items)))
    todays = set(turns.whose_turn(part, files, turns.today()))
    return {item.nodeid: TURN for item in items if file_of(item) not in todays}


def reasons_to_leave_out(
    items: list[pytest.Item], taken: times.Times, cores: int
) -> dict[str, str]:
    """Return why a quick run leaves out those of *items* that it leaves out, by their id."""
    why = {item.nodeid: reason for item in items if (reason := heavy(item))}
    files: dict[str, list[str]] = {}
    for item in items:
        if item.nodeid not in why:
            files.setdefault(file_of(item), []).append(item.nodeid)
    share = times.quick_share({name: len(ids) for name, ids in files.items()}, taken, cores)
    for name, ids in files.items():
        left_in = set(spread(ids, share[name]))
        why |= {each: SLOW for each in ids if each not in left_in}
    return why


def spread(ids: list[str], number: int) -> list[str]:
    """Return *number* of *ids*, evenly from the first on."""
    return [ids[place * len(ids) // number] for place in range(number)]


def heavy(item: pytest.Item) -> str:
    """Say why *item* is never part of a quick run, or nothing."""
    if item.get_closest_marker("stack"):
        return "start the whole portal"
    return "open a browser" if "browser" in getattr(item, "fixturenames", ()) else ""
