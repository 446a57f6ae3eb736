"""The check for known faults never passes without having been made."""

import datetime as dt
from importlib.machinery import SourceFileLoader
from importlib.util import module_from_spec, spec_from_loader
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[3]


@pytest.fixture(scope="module")
def audit():
    """Load `.ci/audit`, which is a program without an ending to its name."""
    loader = SourceFileLoader("audit", str(ROOT / ".ci/audit"))
    module = module_from_spec(spec_from_loader("audit", loader))
    loader.exec_module(module)
    return module


FAULT = {"id": "PYSEC-2026-1", "fix_versions": ["5.2.20"]}
CLEAR = {"dependencies": [{"name": "django", "version": "5.2.19", "vulns": []}]}
FAULTY = {"dependencies": [{"name": "django", "version": "5.2.19", "vulns": [FAULT]}]}
LEFT_OUT = {"dependencies": [{"name": "django", "skip_reason": "not found"}]}


@pytest.mark.parametrize(
    ("asked", "control", "ended", "words"),
    [
        (CLEAR, FAULTY, "CHECKED", "no known fault"),
        (FAULTY, FAULTY, "FAULTY", "PYSEC-2026-1"),
        (CLEAR, CLEAR, "NOT_CHECKED", "COULD NOT BE CHECKED"),
        (CLEAR, None, "NOT_CHECKED", "COULD NOT BE CHECKED"),
        (None, None, "NOT_CHECKED", "COULD NOT BE CHECKED"),
        (LEFT_OUT, FAULTY, "NOT_CHECKED", "1 left out"),
    ],
)
def test_only_an_answer_about_every_library_is_a_pass(audit, asked, control, ended, words):
    code, said = audit.verdict(asked, control, set())
    assert code == getattr(audit, ended)
    assert words in said


def test_a_fault_may_wait_until_its_written_day_and_no_longer(audit):
    text = "# why\nPYSEC-2026-1 2026-12-24 cannot be reached: we parse no XML\n"
    on_the_day = audit.waivers(text, dt.date(2026, 12, 24))
    a_day_later = audit.waivers(text, dt.date(2026, 12, 25))
    assert audit.verdict(FAULTY, FAULTY, on_the_day)[0] == audit.CHECKED
    assert audit.verdict(FAULTY, FAULTY, a_day_later)[0] == audit.FAULTY


def test_every_part_that_the_portal_carries_itself_is_on_the_list(audit):
    vendored = ROOT / "portal/static/vendor"
    parts = audit.carried((vendored / "README.md").read_text())
    folders = {path.name for path in vendored.iterdir() if path.is_dir()}
    assert {part["bom-ref"].removeprefix("carried-") for part in parts} == folders
    assert all(part["version"] and part["licenses"] for part in parts)
