"""The house stands as drawn: what is at the top, and who may import whom."""

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
TOP = {
    *("README.md", "DEVELOPERS.md", "manage.py", "requirements.txt"),
    *("portal", "tasks", "evidence", "assessment", "tests"),
}
# Each app, and the apps whose code it may use besides its own.
BELOW = {
    "portal": set(),
    "tasks": {"portal"},
    "evidence": {"portal", "tasks"},
    "assessment": {"portal", "tasks", "evidence"},
}
PURE = ("tasks/numberwork", "evidence/media", "assessment/insight", "assessment/frameworks")
APPS = set(BELOW)


def imports_of(path: Path) -> Iterator[str]:
    """Yield the full name of every module that the file at *path* imports, wherever it does."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            package = path.relative_to(ROOT).parts[: -node.level] if node.level else ()
            base = ".".join([*package, *([node.module] if node.module else [])])
            yield base
            yield from (f"{base}.{alias.name}" for alias in node.names)


def sources(folder: str) -> list[Path]:
    """Return the Python files below *folder*."""
    return sorted((ROOT / folder).rglob("*.py"))


def is_in(name: str, package: str) -> bool:
    """Whether module *name* is *package* or within it."""
    return name == package or name.startswith(f"{package}.")


def test_the_top_level_holds_the_fixed_names_and_no_other():
    listed = subprocess.run(
        ["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=True
    ).stdout.splitlines()
    names = {line.split("/")[0] for line in listed if not line.startswith(".")}
    assert names == TOP


@pytest.mark.parametrize("app", BELOW)
def test_an_app_uses_only_the_apps_below_it(app):
    may_know_all = {ROOT / "portal/urls.py", ROOT / "portal/settings.py"}
    strangers = APPS - BELOW[app] - {app}
    broken = [
        f"{path.relative_to(ROOT)} imports {name}"
        for path in sources(app)
        if path not in may_know_all
        for name in imports_of(path)
        if any(is_in(name, stranger) for stranger in strangers)
    ]
    assert not broken


@pytest.mark.parametrize("package", PURE)
def test_a_pure_package_imports_no_django_and_nothing_of_the_apps(package):
    own = package.replace("/", ".")
    broken = [
        f"{path.relative_to(ROOT)} imports {name}"
        for path in sources(package)
        for name in imports_of(path)
        if is_in(name, "django")
        or (any(is_in(name, app) for app in APPS) and not is_in(name, own) and "." in name)
    ]
    assert not broken


@pytest.mark.parametrize("package", PURE)
def test_a_pure_package_works_where_django_is_not_installed(package):
    name = package.replace("/", ".")
    code = (
        "import sys; sys.modules['django'] = sys.modules['celery'] = None;"
        f"import importlib; importlib.import_module({name!r})"
    )
    ran = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert ran.returncode == 0, ran.stderr


@pytest.mark.parametrize("package", PURE)
def test_a_pure_package_asks_no_clock_and_draws_no_chance_of_its_own(package):
    forbidden = ("datetime.now(", "date.today(", "time.time(", "import secrets", "random.seed(")
    broken = [
        f"{path.relative_to(ROOT)} uses {word}"
        for path in sources(package)
        for word in forbidden
        if word in path.read_text(encoding="utf-8")
    ]
    assert not broken


def test_no_file_is_longer_than_400_lines():
    long = [
        f"{path.relative_to(ROOT)}: {lines}"
        for folder in (*BELOW, "tests")
        for path in sources(folder)
        if (lines := len(path.read_text(encoding="utf-8").splitlines())) > 400
    ]
    assert not long


def test_every_migration_is_written():
    ran = subprocess.run(
        [sys.executable, "manage.py", "makemigrations", "--check", "--dry-run"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert ran.returncode == 0, ran.stdout + ran.stderr
