"""The break rows themselves: each promise has one, and only a test that fails is a proof."""

import re
from pathlib import Path

import pytest

from tests.breaks.__main__ import Place, account, chosen, options_of, try_row, try_whole
from tests.breaks.rows import CannotBreakError, Row, all_rows, broken
from tests.portal.data_protection.test_papers import ROOT, STATEMENTS, named_tests, rows_of_trust

WITHOUT = {
    "P14": "does not apply: the portal speaks to no device",
    "P22": "does not apply: children have no accounts",
}
CODE = "def locked(tries):\n    return tries >= 5\n"
TESTS = """
import pytest
from lock import locked

@pytest.fixture
def lock():
    return locked

def test_five_tries_lock(lock):
    assert lock(5)

def test_no_try_does_not(lock):
    assert not lock(0)
"""


@pytest.fixture
def place(tmp_path: Path) -> Place:
    """Return a little tree with one protection and its tests."""
    tree = tmp_path / "tree"
    (tree / "tests").mkdir(parents=True)
    (tree / "tests/pytest.ini").write_text("[pytest]\npythonpath = ..\naddopts = -p no:django\n")
    (tree / "lock.py").write_text(CODE)
    (tree / "tests/test_lock.py").write_text(TESTS)
    return Place(tree, tmp_path / "work", None, limit=120.0)


def row(old: str, new: str, test: str = "test_five_tries_lock") -> Row:
    """Return a row of that little tree."""
    return Row("L1", "lock.py", old, new, (f"tests/test_lock.py::{test}",))


def test_every_promise_that_code_holds_has_a_break_row():
    held = {promise for promise, (_words, held_by) in rows_of_trust().items() if "::" in held_by}
    broken_ones = {row.promise for row in all_rows()}
    assert held - broken_ones - WITHOUT.keys() == set()
    assert WITHOUT.keys() & broken_ones == set()


@pytest.mark.parametrize("row", all_rows(), ids=lambda row: row.name)
def test_what_a_row_takes_away_is_there_and_so_are_its_tests(row):
    broken(row, (ROOT / row.path).read_text(encoding="utf-8"))
    assert 1 <= len(row.tests) <= 2
    for test in row.tests:
        path, name = re.fullmatch(r"(tests/[\w/]+\.py)::(\w+)(?:\[.+\])?", test).groups()
        assert f"def {name}(" in (ROOT / path).read_text(encoding="utf-8"), test


@pytest.mark.parametrize("promise", sorted({row.promise for row in all_rows()} & STATEMENTS))
def test_the_tests_that_miss_it_are_those_that_the_trust_table_names(promise):
    _words, held_by = rows_of_trust()[promise]
    missing = {test.split("[")[0] for row in all_rows() if row.promise == promise
               for test in row.tests}  # fmt: skip
    assert missing - set(named_tests(held_by)) == set()


def test_parts_take_each_row_once_and_a_promise_is_tried_by_its_name():
    parts = [chosen(options_of(["--part", f"{part}/3"])) for part in (1, 2, 3)]
    assert sorted(row for part in parts for row in part) == sorted(all_rows())
    assert {row.promise for row in chosen(options_of(["--only", "S16", "E3"]))} == {"S16", "E3"}


def test_a_protection_that_is_missed_is_red_and_stands_again_afterwards(place):
    verdict = try_row(row("tries >= 5", "False"), place)
    assert (verdict.is_good, verdict.words) == (True, "red")
    assert (place.tree / "lock.py").read_text() == CODE
    assert try_whole(row("tries >= 5", "False"), place).is_good


def test_a_patch_that_no_test_misses_is_reported_as_still_green(place, capsys):
    verdicts = [try_row(row("tries >= 5", "tries > 4"), place)]
    assert (verdicts[0].is_good, verdicts[0].words) == (False, "still green")
    assert account(verdicts) == 1
    said = capsys.readouterr().out
    assert "rows 1, patches 1, red 0" in said
    assert "NOT HELD: L1 lock.py: tries >= 5" in said


@pytest.mark.parametrize(
    ("old", "new", "why"),
    [
        ("tries >= 6", "False", "stands there 0 times"),
        ("tries", "False", "stands there 2 times"),
        ("tries >= 5", "(", "no Python"),
    ],
)
def test_a_text_that_is_not_there_just_once_or_leaves_no_python_is_no_row(place, old, new, why):
    verdict = try_row(row(old, new), place)
    assert not verdict.is_good
    assert why in verdict.words
    with pytest.raises(CannotBreakError):
        broken(row(old, new), CODE)


@pytest.mark.parametrize(
    ("old", "new", "test", "why"),
    [
        ("tries >= 5", "tires >= 5", "test_five_tries_lock", "fell over: NameError"),
        ("def locked", "def unlocked", "test_five_tries_lock", "no test ran"),
        ("tries >= 5", "False", "test_that_is_not_there", "no test ran"),
        ("tries >= 5", "False", "test_no_try_does_not", "still green"),
    ],
)
def test_code_that_falls_over_or_a_test_that_does_not_run_is_no_proof(place, old, new, test, why):
    verdict = try_row(row(old, new, test), place)
    assert not verdict.is_good
    assert why in verdict.words


def test_a_test_that_takes_too_long_is_no_proof(place):
    endless = row("return tries >= 5", "while True: pass")
    verdict = try_row(endless, place._replace(limit=5.0))
    assert not verdict.is_good
    assert "too long" in verdict.words
    assert (place.tree / "lock.py").read_text() == CODE
