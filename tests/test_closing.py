"""How a run of the tests ends, and what it says of tests that were not run."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests import browsers, times
from tests.closing import NOT_GIVEN, TIME_IS_UP, TURN

REASON = "no such thing here"
MARKER = "[pytest]\nmarkers =\n    stack: the whole portal\n"


def run(folder: Path, body: str, *options: str, **more: str) -> tuple[int, list[str]]:
    """Run tests of which *body* is the last: give the exit code and the lines it said."""
    (folder / "pytest.ini").write_text(MARKER)
    passes = (
        f"import pytest\n\ndef test_passes(): pass\n\ndef test_skips(): pytest.skip({REASON!r})"
    )
    (folder / "test_some.py").write_text(f"import pytest\n\n{passes}\n\n{body}\n")
    command = [sys.executable, "-m", "pytest", "-p", "tests.closing", "-p", "no:django"]
    command += ["-p", "no:cacheprovider", "-c", folder / "pytest.ini", folder, *options]
    environment = {name: word for name, word in os.environ.items() if name != "SHARED_MEDIA"}
    ran = subprocess.run(
        command,
        cwd=times.ROOT,
        env={**{k: v for k, v in environment.items() if "XDIST" not in k}, **more},
        capture_output=True,
        text=True,
        check=False,
    )
    return ran.returncode, ran.stdout.strip().splitlines()


@pytest.mark.parametrize("cores", ["0", "2"])
def test_each_reason_for_a_skip_stands_once_above_one_line_of_figures(cores, tmp_path):
    skips = f"def test_skips_too(): pytest.skip({REASON!r})"

    code, said = run(tmp_path, skips, "-n", cores)

    assert code == 0
    assert [line for line in said if REASON in line] == [f"    2 {REASON}"]
    assert said[-1] == "1 passed, 0 failed, 2 skipped"


def test_what_failed_or_could_not_begin_counts_as_failed(tmp_path):
    code, said = run(tmp_path, "def test_fails(): assert 0\ndef test_cannot(missing): pass")

    assert code == 1
    assert said[-1] == "1 passed, 2 failed, 1 skipped"


def test_a_skip_fails_a_run_that_may_have_none(tmp_path):
    code, said = run(tmp_path, "", "--no-skips")

    assert code == 1
    assert "1 skipped, where none may be (--no-skips)" in said


@pytest.mark.parametrize(("given", "expected"), [({}, 0), ({"SHARED_MEDIA": "/nowhere"}, 1)])
def test_files_that_nobody_gave_are_listed_and_fail_no_run(given, expected, tmp_path):
    only = f"def test_skips(): pytest.skip({NOT_GIVEN!r})"

    code, said = run(tmp_path, only, "--no-skips", **given)

    assert code == expected
    assert f"    1 {NOT_GIVEN}" in said


@pytest.mark.parametrize("cores", ["0", "2"])
def test_a_quick_run_says_what_it_leaves_out(cores, tmp_path):
    heavy = "@pytest.mark.stack\ndef test_starts(): pass\n\ndef test_opens(browser): pass"

    code, said = run(tmp_path, heavy, "--quick", "-n", cores)

    assert code == 0
    assert {"    1 start the whole portal", "    1 open a browser"} <= set(said)
    assert said[-1] == "1 passed, 0 failed, 1 skipped"


@pytest.mark.parametrize("cores", ["0", "2"])
def test_a_quick_run_begins_no_test_when_its_time_is_up_and_counts_those(cores, tmp_path):
    code, said = run(tmp_path, "", "--quick", "--quick-seconds", "0", "-n", cores)

    assert code == 0
    assert f"    2 {TIME_IS_UP}" in said
    assert said[-1] == "0 passed, 0 failed, 0 skipped"


def test_within_three_days_each_file_has_had_its_turn(tmp_path):
    codes = []
    for part in ("1/3", "2/3", "3/3"):
        code, said = run(tmp_path, "", "--part", part)
        codes.append(code)
        if code != 0:
            assert f"    2 {TURN}" in said

    assert sorted(codes) == [0, 5, 5]  # 5: there was nothing to run


def test_a_quick_run_takes_something_of_every_file_that_has_quick_tests():
    counts = {"short.py": 10, "long.py": 100, "endless.py": 1}
    taken = {"short.py": (10, 1.0), "long.py": (100, 900.0), "endless.py": (1, 4000.0)}

    share = times.quick_share(counts, taken, 2)

    assert share["short.py"] == 10
    assert 0 < share["long.py"] < 100
    assert share["endless.py"] == 0
    spent = sum(number * times.for_each_test(taken, name) for name, number in share.items())
    assert spent <= 2 * times.QUICK


def test_a_browser_is_looked_for_and_installed_once_for_all_of_a_run(monkeypatch, tmp_path):
    asked = []
    monkeypatch.setattr(browsers, "find", lambda: None)
    monkeypatch.setattr(browsers, "installed", lambda: asked.append(1) or ("", "no browser: none"))

    for _process in range(3):
        with pytest.raises(browsers.NoBrowserError, match="no browser: none"):
            browsers.once_for_all(tmp_path / "browser")

    assert len(asked) == 1


def test_every_file_of_tests_that_is_timed_is_there():
    assert [name for name in times.read() if not (times.ROOT / name).exists()] == []
