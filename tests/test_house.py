"""The house stands as drawn: what is at the top, and who may import whom."""

import ast
import subprocess
import sys
from collections import Counter

import pytest

from tests.house import BELOW, PURE, ROOT, imports_of, is_in, one_way, sources, uses_in

TOP = {
    *("README.md", "DEVELOPERS.md", "manage.py", "requirements.txt"),
    *("portal", "tasks", "evidence", "assessment", "tests"),
}
APPS = set(BELOW)
MOST_MODULES = 16  # with its __init__
# One file for each of a kind, found by its name.
CATALOGUES = {"tasks/numberwork/kinds", "tasks/numberwork/pictures", "evidence/media"}


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


def test_no_folder_of_an_app_holds_more_modules_than_one_can_look_over():
    folders = Counter(
        path.parent.relative_to(ROOT).as_posix()
        for app in BELOW
        for path in sources(app)
        if path.parent.name != "migrations"
    )
    full = {name: count for name, count in folders.items() if count > MOST_MODULES}
    assert full.keys() <= CATALOGUES, full


@pytest.mark.parametrize("app", BELOW)
def test_the_packages_of_an_app_import_each_other_one_way(app):
    uses = uses_in(app)
    assert len(uses) > 5
    _along, against = one_way(uses)
    assert not against


@pytest.mark.parametrize("app", BELOW)
def test_who_asks_and_who_did_something_is_never_of_any_type(app):
    people = {"user", "by", "who", "adult", "sender", "asker"}
    arguments = [
        (path.relative_to(ROOT), node)
        for path in sources(app)
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.arg) and node.arg in people and node.annotation
    ]
    assert arguments
    loose = [
        f"{path}:{node.lineno}"
        for path, node in arguments
        if ast.unparse(node.annotation) in ("Any", "object")
    ]
    assert not loose


def test_every_migration_is_written():
    ran = subprocess.run(
        [sys.executable, "manage.py", "makemigrations", "--check", "--dry-run"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert ran.returncode == 0, ran.stdout + ran.stderr
