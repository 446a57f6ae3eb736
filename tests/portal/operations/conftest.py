"""Machines for the tests about upkeep."""

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from tests.portal.operations.machine import SERVER, Machine


@pytest.fixture(scope="session")
def filled_once(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Machine]:
    """Return a machine with the invented school on it, which no test may change."""
    machine = Machine(tmp_path_factory.mktemp("filled") / "data")
    machine.make_database()
    machine.does("migrate", "--verbosity", "0")
    ran = machine.run(*machine.command()[:1], "-m", "tests.portal.operations.filled")
    assert ran.code == 0, ran.said
    yield machine
    machine.drop()


@pytest.fixture
def new_machine(tmp_path: Path) -> Iterator[Callable[[str], Machine]]:
    """Return a function that makes an empty machine of some name."""
    made = []

    def make(name: str) -> Machine:
        machine = Machine(tmp_path / name)
        machine.make_database()
        made.append(machine)
        return machine

    yield make
    for machine in made:
        machine.drop()


@pytest.fixture
def machine(filled_once: Machine, new_machine: Callable[[str], Machine]) -> Machine:
    """Return a machine of the test's own with the invented school on it."""
    own = new_machine("live")
    shutil.copytree(filled_once.data, own.data)
    if SERVER:
        own.on_server(f'DROP DATABASE "{own.database}"')
        own.on_server(f'CREATE DATABASE "{own.database}" TEMPLATE "{filled_once.database}"')
    return own
