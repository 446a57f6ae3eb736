"""Many web servers, one database: what one of them erased, all of them know."""

import datetime as dt

import pytest

from portal.operations import erasure_list
from portal.operations.erasure_list import Erasure
from tests.portal.operations.machine import Machine

pytestmark = [pytest.mark.servers, pytest.mark.proof]


@pytest.fixture
def neighbour(machine: Machine, new_machine) -> Machine:
    """Return a second machine with a data folder of its own, on the database of the first."""
    other = new_machine("neighbour")
    other.data.mkdir()
    address = machine.url or f"sqlite:///{machine.data}/kitchen-counter.sqlite3"
    other.more = {"DATABASE_URL": address}
    return other


def erase(machine: Machine, name: str) -> None:
    machine.python(
        "from portal.people.models import Child;"
        "from portal.data_protection.erasure.erase import erase_child;"
        f"erase_child(Child.objects.get(first_name='{name}'))"
    )


def names(machine: Machine) -> set[str]:
    return {name for (name,) in machine.ask("SELECT first_name FROM people_child")}


def test_a_child_erased_on_one_machine_stays_erased_by_what_the_other_one_backs_up(
    machine, neighbour, new_machine, tmp_path
):
    machine.does("backup", tmp_path / "repository")
    old = next((tmp_path / "repository").glob("20*"))
    erase(neighbour, "Ben")
    machine.does("backup", tmp_path / "repository")
    other = new_machine("other")
    other.does("restore", old, "--data", other.data)
    assert names(machine) == names(other)
    assert "Ben" not in names(other)
    assert "Aisha" in names(other)


def test_what_another_machine_erased_after_the_last_backup_is_read_from_the_database(
    machine, neighbour, new_machine, tmp_path
):
    machine.does("backup", tmp_path / "repository")
    erase(neighbour, "Ben")
    other = new_machine("other")
    lost = machine.url or f"sqlite:///{machine.data}/kitchen-counter.sqlite3"
    other.does("restore", tmp_path / "repository", "--data", other.data, "--erasures", lost)
    assert "Ben" not in names(other)
    assert "Aisha" in names(other)


def test_lists_of_several_machines_are_united(machine, neighbour, new_machine, tmp_path):
    machine.does("backup", tmp_path / "repository")
    erase(neighbour, "Ben")
    erase(machine, "Cal")
    lists = [word for each in (machine, neighbour)
             for word in ("--erasures", each.data / "erasures.jsonl")]  # fmt: skip
    other = new_machine("other")
    other.does("restore", tmp_path / "repository", "--data", other.data, *lists)
    assert not {"Ben", "Cal"} & names(other)


@pytest.mark.django_db
def test_file_and_database_learn_from_each_other_once(settings, tmp_path):
    settings.ERASURES_FILE = tmp_path / "a.jsonl"
    erasure_list.note("people.child", 1)
    settings.ERASURES_FILE = tmp_path / "b.jsonl"
    long_ago = dt.datetime(2026, 1, 5, tzinfo=dt.UTC)
    narrowed = Erasure(long_ago, "people.staffpost", 2, erasure_list.NARROWED, {"classes": [3]})
    erasure_list.add_to_file([narrowed])
    for _again in range(2):
        erasure_list.merge()
    settings.ERASURES_FILE = tmp_path / "a.jsonl"
    for _again in range(2):
        erasure_list.merge()
    both = [set(erasure_list.read(tmp_path / name)) for name in ("a.jsonl", "b.jsonl")]
    assert both[0] == both[1]
    assert {(each.pk, each.what) for each in both[0]} == {(1, "erased"), (2, "narrowed")}
    assert len((tmp_path / "a.jsonl").read_text().splitlines()) == 2


def test_a_list_that_cannot_be_read_stops_the_restore_with_a_sentence(
    machine, new_machine, tmp_path
):
    machine.does("backup", tmp_path / "repository")
    other = new_machine("other")
    for nothing in (tmp_path / "nothing.jsonl", "sqlite:////nowhere/nothing.sqlite3"):
        ran = other.manage(
            "restore", tmp_path / "repository", "--data", tmp_path / "fresh", "--erasures", nothing
        )
        assert ran.code == 1
        assert "Not restored: " in ran.said
        assert "Traceback" not in ran.said
        assert not (tmp_path / "fresh").exists()
