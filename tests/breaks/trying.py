"""Running a few tests in a copy of the tree, each time in a process of its own.

What the project is built on is imported once, here, and each run is a fork: most of the few seconds
of a test would go into that. Nothing of the project itself may be imported before the fork.
"""

import importlib
import json
import multiprocessing
import os
import shutil
import signal
import sys
import time
from pathlib import Path
from typing import NamedTuple

import pytest

OF_THE_PROJECT = ("portal", "tasks", "evidence", "assessment", "tests")
WARM = (
    *("django.contrib.auth.forms", "django.contrib.sessions.models", "django.test"),
    *("django.core.management.commands.migrate", "django.db.backends.sqlite3.base"),
    *("django.template.defaulttags", "django.urls", "django.views.debug", "pytest_django.plugin"),
    *("celery", "kombu.transport.redis", "fpdf", "PIL.Image", "pillow_heif", "av", "axes"),
    *("hypothesis", "playwright.sync_api", "freezegun", "crispy_forms", "django_otp"),
)
# These say that the code fell over, not that a protection was missed.
FELL_OVER = (NameError, ImportError, SyntaxError, UnboundLocalError)


class Tried(NamedTuple):
    """What became of a run: how many tests failed, and a word on it where that says too little."""

    code: int
    failed: int
    passed: int
    words: str
    seconds: float

    @property
    def is_red(self) -> bool:
        """Whether a test ran and missed what was taken away."""
        return self.code == pytest.ExitCode.TESTS_FAILED and self.failed > 0 and not self.words


class Notes:
    """A plugin of the run: notes what failed in the test itself, and of what."""

    def __init__(self) -> None:
        self.failed, self.passed, self.words = 0, 0, ""

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_makereport(self, item, call):
        report = yield
        if report.when == "call" and report.failed:
            self.failed += 1
            if isinstance(call.excinfo.value, FELL_OVER):
                self.words = f"the code fell over: {call.excinfo.exconly()[:200]}"
        elif report.failed:
            self.words = f"error before or after the test: {call.excinfo.exconly()[:200]}"
        elif report.when == "call" and report.passed:
            self.passed += 1
        return report


def warm_up() -> None:
    """Import what every run needs and no patch touches."""
    for name in WARM:
        try:
            importlib.import_module(name)
        except Exception:  # noqa: S112 - what wants settings first is left to the run
            continue


def settle_in(tree: Path, data: Path) -> None:
    """Make this fresh fork a process of *tree*, with its data in *data* and nothing of ours."""
    os.setsid()
    os.chdir(tree)
    home = Path(__file__).resolve().parents[2]
    sys.path[:] = [str(tree), *(way for way in sys.path if way and Path(way).resolve() != home)]
    for name in [name for name in sys.modules if name.split(".")[0] in OF_THE_PROJECT]:
        del sys.modules[name]
    importlib.invalidate_caches()
    for name in ("DATABASE_URL", "REDIS_URL", "STORAGE_URL"):
        os.environ.pop(name, None)
    os.environ |= {"DATA_DIR": str(data), "TMPDIR": str(data / "tmp")}
    os.environ["DJANGO_SETTINGS_MODULE"] = "tests.settings"
    os.environ.setdefault("SHARED_MEDIA", str(home.parent / "shared" / "media"))
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
    sys.dont_write_bytecode = False  # The copy is ours, and the next run in it is quicker.
    (data / "tmp").mkdir()
    said = os.open(data / "said", os.O_WRONLY | os.O_CREAT, 0o600)
    os.dup2(said, 1)
    os.dup2(said, 2)


def make_database(tree: Path, data: Path) -> None:
    """Be the process that makes the tests' database, to be copied for each run."""
    settle_in(tree, data)
    import django
    from django.test.utils import setup_databases

    django.setup()
    setup_databases(verbosity=0, interactive=False)


def run_tests(tree: Path, data: Path, tests: tuple[str, ...], more: tuple[str, ...]) -> None:
    """Be the process that runs *tests*, and leave what became of them in *data*."""
    settle_in(tree, data)
    notes = Notes()
    options = ["-c", "tests/pytest.ini", "-p", "no:cacheprovider", "-q", "-x", *more]
    code = pytest.main([*options, "--basetemp", str(data / "kept"), *tests], plugins=[notes])
    (data / "became.json").write_text(json.dumps([code, notes.failed, notes.passed, notes.words]))


def forked(data: Path, limit: float, target, *arguments) -> bool:
    """Run *target* in a fork for at most *limit* seconds; False: it was stopped, or died."""
    process = multiprocessing.get_context("fork").Process(target=target, args=arguments)
    process.start()
    process.join(limit)
    ended = process.exitcode == 0
    try:
        os.killpg(process.pid, signal.SIGKILL)  # Whatever it has left running as well.
    except (ProcessLookupError, PermissionError):
        process.kill()
    process.join()
    return ended


def try_tests(
    tree: Path, work: Path, tests: tuple[str, ...], *, database: Path | None, limit: float
) -> Tried:
    """Run *tests* in *tree* for at most *limit* seconds, in a new folder within *work*.

    database: a ready one to begin with; without, the run makes its own.
    """
    began = time.monotonic()
    data = work / "data"
    shutil.rmtree(data, ignore_errors=True)
    data.mkdir(parents=True)
    more: tuple[str, ...] = ()
    if database is not None:
        shutil.copy(database, data / "test.sqlite3")
        more = ("--reuse-db",)
    ended = forked(data, limit, run_tests, tree, data, tests, more)
    became = data / "became.json"
    if not ended or not became.exists():
        words = "it took too long, or died" if not ended else "it left no word"
        return Tried(-1, 0, 0, words, time.monotonic() - began)
    return Tried(*json.loads(became.read_text()), time.monotonic() - began)
