"""DEVELOPERS.md is true: what it names is there, and its walks go where the code goes."""

import ast
import re
from collections.abc import Iterator
from functools import cache

import pytest

from tests.house import ROOT, imports_of, is_in
from tests.house_picture import PICTURE, drawn

GUIDE = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
NAMED = re.compile(r"([\w./]+\.(?:py|js)):([A-Za-z_][\w.]*\w)")
HOP = re.compile(rf"    ([·→←]) {NAMED.pattern}")
MOST_HOPS = {"A photo": 15, '"12 shared by 2"': 18, "Friday's summing-up": 10}
MOST_BYTES = 10_500
Hop = tuple[str, str, str]  # how it is reached, the file, the name
DEFINITIONS = (ast.FunctionDef, ast.AsyncFunctionDef, ast.ClassDef)


@cache
def defined(path: str) -> dict[str, ast.AST]:
    """Return what the file at *path* defines: functions, classes and what is in them, constants."""
    found: dict[str, ast.AST] = {}

    def note(body: list[ast.stmt], before: str = "") -> None:
        for node in body:
            if isinstance(node, DEFINITIONS):
                found[before + node.name] = node
                if isinstance(node, ast.ClassDef):
                    note(node.body, f"{before}{node.name}.")
            elif isinstance(node, ast.Assign | ast.AnnAssign):
                targets = node.targets if isinstance(node, ast.Assign) else [node.target]
                found.update({before + t.id: node for t in targets if isinstance(t, ast.Name)})

    note(ast.parse((ROOT / path).read_text(encoding="utf-8")).body)
    return found


def is_there(path: str, name: str) -> bool:
    """Whether the file at *path* defines *name*."""
    if not (ROOT / path).is_file():
        return False
    if path.endswith(".js"):
        source = (ROOT / path).read_text(encoding="utf-8")
        return bool(re.search(rf"^export (async )?(function|class) {name}\b", source, re.MULTILINE))
    return name in defined(path)


def used_by(path: str, name: str) -> set[str]:
    """Return the names *name* uses, itself or through others of its own file."""
    there = defined(path)
    found: set[str] = set()
    left, done = {name}, set()
    while left:
        done |= left
        used = {each for one in left for each in names_in(there[one])}
        found |= used
        left = {key for key in there if key.rpartition(".")[2] in used} - done
    return found


def names_in(node: ast.AST) -> Iterator[str]:
    """Yield every name and attribute that stands in the code of *node*."""
    for each in ast.walk(node):
        if isinstance(each, ast.Name):
            yield each.id
        elif isinstance(each, ast.Attribute):
            yield each.attr


def walk(title: str) -> list[Hop]:
    """Return the hops of the walk whose line begins with *title*."""
    _before, _title, after = GUIDE.partition(f"\n{title}")
    lines = after.partition("\n\n")[2].partition("\n\n")[0].splitlines()
    found = [HOP.fullmatch(each) for each in lines]
    assert all(found), lines
    return [each.groups() for each in found if each]


def calls(caller: Hop, called: Hop) -> bool:
    """Whether *caller* uses *called*, and its file can know it: by its module or by its name."""
    (_way, path, name), (_its_way, its_path, its_name) = caller, called
    if not path.endswith(".py") or its_name.rpartition(".")[2] not in used_by(path, name):
        return False
    module, first = its_path.removesuffix(".py").replace("/", "."), its_name.partition(".")[0]
    known = set(imports_of(ROOT / path))
    by_name = any(each.endswith(f".{first}") for each in known)
    return path == its_path or by_name or any(is_in(module, each) for each in known)


def strays(hops: list[Hop]) -> Iterator[str]:
    """Yield those of *hops* that the code does not reach in the way that is said."""
    for at, hop in enumerate(hops[1:], 1):
        way, path, name = hop
        is_called = way != "→" or any(calls(over, hop) for over in hops[:at])
        does_call = way != "←" or calls(hop, hops[at - 1])
        if not (is_called and does_call):
            yield f"{way} {path}:{name}"


def test_everything_the_guide_names_is_in_the_code():
    named = set(NAMED.findall(GUIDE))
    assert len(named) > 50
    assert {f"{path}:{name}" for path, name in named if not is_there(path, name)} == set()


@pytest.mark.parametrize("title", MOST_HOPS)
def test_a_walk_follows_the_code_in_few_hops(title):
    hops = walk(title)
    assert 5 < len(hops) <= MOST_HOPS[title]
    assert list(strays(hops)) == []


def test_a_walk_that_leaves_the_code_is_found():
    hops = walk("Friday's summing-up")
    onward = ("→", "assessment/insight/groups.py", "make_groups")
    back = ("←", "assessment/progress/groups.py", "suggest")
    assert list(strays([*hops, onward, back])) == ["→ assessment/insight/groups.py:make_groups"]
    assert list(strays([*hops, back])) == ["← assessment/progress/groups.py:suggest"]


def test_a_word_of_the_glossary_is_carried_by_one_class_alone():
    rows = re.findall(r"^\| ([a-z ]+) \| .+ \| `(.+)` \|$", GUIDE, re.MULTILINE)
    assert len(rows) == 15
    assert len(dict(rows)) == len({carrier for _word, carrier in rows}) == len(rows)


def test_every_folder_and_file_the_guide_speaks_of_is_there():
    spoken = re.findall(r"`((?:portal|tasks|evidence|assessment|tests)/[\w/.]+)`", GUIDE)
    assert len(spoken) > 15
    assert {each for each in spoken if not (ROOT / each).exists()} == set()


def test_a_commit_is_checked_as_the_first_stage_of_a_change_is():
    run = (ROOT / ".ci/run").read_text(encoding="utf-8")
    stage = run.partition('echo "== style')[2].partition("echo ")[0].splitlines()[1:]
    wanted = [
        re.sub("^tests ", "python3 manage.py test --no-skips ", each) for each in stage if each
    ]
    hooks = (ROOT / ".pre-commit-config.yaml").read_text(encoding="utf-8")
    assert re.findall(r"^ +entry: (.+)$", hooks, re.MULTILINE) == wanted
    assert re.findall(r"repo: (.+)", hooks) == ["local"]


def test_the_guide_stays_short():
    assert len(GUIDE.encode()) < MOST_BYTES


def test_the_picture_of_the_house_is_what_its_command_draws_now():
    assert ".tour/house.svg" in GUIDE
    kept = PICTURE.read_text(encoding="utf-8")
    assert kept == drawn(), "draw it again: .venv/bin/python -m tests.house_picture"
    assert len(kept.encode()) <= 60_000
