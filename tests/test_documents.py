"""What a newcomer reads leads somewhere, and the first screen says what matters."""

import re
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
README = ROOT / "README.md"
LINK = re.compile(r"(?:\]\(|src=\")([^)#\s\"]+)")


def documents() -> list[Path]:
    """Return every document of the project but those that came with what is vendored."""
    listed = ["git", "ls-files", "--cached", "--others", "--exclude-standard", "*.md"]
    names = subprocess.run(listed, cwd=ROOT, capture_output=True, text=True, check=True).stdout
    vendored = ROOT / "portal/static/vendor"
    found = [ROOT / name for name in names.splitlines()]
    return [path for path in found if vendored not in path.parents or path.parent == vendored]


def links(path: Path) -> set[Path]:
    """Return the files that the document at *path* leads to."""
    targets = LINK.findall(path.read_text(encoding="utf-8"))
    return {(path.parent / each).resolve() for each in targets if "://" not in each}


@pytest.mark.parametrize("path", documents(), ids=lambda path: str(path.relative_to(ROOT)))
def test_every_link_leads_to_a_file_that_is_there(path):
    assert {each for each in links(path) if not each.exists()} == set()


def test_every_document_is_one_click_from_the_first():
    assert {path for path in documents() if path != README} - links(README) == set()


def test_the_first_screen_has_the_picture_the_commands_and_what_one_will_see():
    lines = README.read_text(encoding="utf-8").splitlines()
    first = "\n".join(lines[:40])
    assert len(lines) <= 110
    for each in (".tour/", "manage.py demo", "manage.py test", "## What you will see"):
        assert each in first
    for operators in ("DATABASE_URL", "doctor", "backup", "serve"):
        assert operators not in first


def test_every_setting_that_is_read_is_in_the_table():
    table = (ROOT / "portal/operations/docs/running.md").read_text(encoding="utf-8")
    source = (ROOT / "portal/settings.py").read_text(encoding="utf-8")
    read = set(re.findall(r"\b(?:choice|flag|number|secret|text)\(\s*\"([A-Z_]+)\"", source))
    assert len(read) > 10
    for_developers = {"DEMO", "DEMO_AGAIN", "DEBUG"}
    assert {name for name in read - for_developers if f"`{name}`" not in table} == set()
