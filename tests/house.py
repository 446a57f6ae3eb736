"""The house as its imports have it: apps, their packages, and which of them uses which."""

import ast
from collections import Counter
from collections.abc import Iterator, Mapping
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
# Each app, and the apps whose code it may use besides its own.
BELOW: dict[str, set[str]] = {
    "portal": set(),
    "tasks": {"portal"},
    "evidence": {"portal", "tasks"},
    "assessment": {"portal", "tasks", "evidence"},
}
PURE = ("tasks/numberwork", "evidence/media", "assessment/insight", "assessment/frameworks")
# What Django or the project reads as a whole, and so knows every package of its app.
WIRING = {"settings", "urls", "views", "management", "migrations", "templatetags"}
Uses = tuple[str, str]  # a package, and another that it imports from


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


def packages_of(app: str) -> list[str]:
    """Return the names of the packages of *app*, without those that know all of them."""
    return sorted({path.parent.name for path in (ROOT / app).glob("*/__init__.py")} - WIRING)


def uses_in(app: str) -> Counter[Uses]:
    """Count what the packages of *app* import from each other; its commands may import any."""
    packages = packages_of(app)
    return Counter(
        (package, other)
        for package in packages
        for path in sources(f"{app}/{package}")
        if "management" not in path.parts
        for name in imports_of(path)
        for other in packages
        if other != package and is_in(name, f"{app}.{other}")
    )


def one_way(uses: Mapping[Uses, int]) -> tuple[set[Uses], set[Uses]]:
    """Return the *uses* that go one way, and those against them: of each circle, the thinnest."""
    along: set[Uses] = set()
    against: set[Uses] = set()
    for one, other in sorted(uses, key=lambda pair: (-uses[pair], pair)):
        (against if one in reached_from(other, along) else along).add((one, other))
    return along, against


def reached_from(package: str, uses: set[Uses]) -> set[str]:
    """Return *package* and all that it uses, directly or through others."""
    found: set[str] = set()
    left = {package}
    while left:
        found |= left
        left = {other for one, other in uses if one in left} - found
    return found
