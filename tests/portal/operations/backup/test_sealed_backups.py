"""A sealed backup tells nothing to whoever finds it, and opens with its key alone."""

import re

import pytest

from tests.portal.operations.machine import Machine

pytestmark = pytest.mark.proof

CANARIES = (b"Aisha", b"Canary-Wagtail", b"family@example.org", b"Harbour Lane")


@pytest.fixture
def keys(machine: Machine, tmp_path) -> tuple[str, str]:
    """Return the public half of a new key, and the path of its secret half."""
    said = machine.does("backup_key", tmp_path / "key")
    return re.search("age1[0-9a-z]+", said)[0], str(tmp_path / "key")


def everything_in(folder) -> bytes:
    """Return the bytes of all files below *folder*, one after another."""
    return b"\0".join(path.read_bytes() for path in folder.rglob("*") if path.is_file())


def test_nothing_of_anybody_can_be_read_in_a_sealed_backup(machine, tmp_path, keys):
    machine.does("backup", tmp_path / "open")
    machine.does("backup", tmp_path / "sealed", "--key", keys[0])
    for canary in CANARIES:
        assert canary in everything_in(tmp_path / "open")
        assert canary not in everything_in(tmp_path / "sealed")
    photos = machine.files().values()
    assert not [photo for photo in photos if photo in everything_in(tmp_path / "sealed")]


def test_a_sealed_backup_opens_with_its_key_and_brings_the_portals_own_keys_back(
    machine, new_machine, tmp_path, keys
):
    machine.python("from evidence.reminders.keys import private_key; private_key()")
    machine.does("backup", tmp_path / "repository", "--key", keys[0])
    other = new_machine("other")
    other.does("restore", tmp_path / "repository", "--data", other.data, "--key", keys[1])
    assert other.files() == machine.files()
    for name in ("secret-key", "push-key.pem"):
        assert (other.data / name).read_bytes() == (machine.data / name).read_bytes()


def test_the_secret_key_is_in_no_backup_that_is_not_sealed(machine, new_machine, tmp_path):
    said = machine.does("backup", tmp_path / "repository")
    secret = (machine.data / "secret-key").read_bytes()
    assert "without the secret key" in said
    assert secret not in everything_in(tmp_path / "repository")
    other = new_machine("other")
    other.does("restore", tmp_path / "repository", "--data", other.data)
    assert (other.data / "secret-key").read_bytes() != secret


@pytest.mark.parametrize("which", ["none", "another"])
def test_without_its_key_a_sealed_backup_is_refused_with_a_sentence(machine, tmp_path, keys, which):
    machine.does("backup", tmp_path / "repository", "--key", keys[0])
    machine.does("backup_key", tmp_path / "other-key")
    given = [] if which == "none" else ["--key", tmp_path / "other-key"]
    ran = machine.manage("restore", tmp_path / "repository", "--data", tmp_path / "other", *given)
    assert ran.code != 0
    assert re.search(r"give the file of its key|This key does not open", ran.said)
    assert "Traceback" not in ran.said


def test_anybody_can_check_a_sealed_backup_without_its_key(machine, tmp_path, keys):
    machine.does("backup", tmp_path / "repository", "--key", keys[0])
    assert "just as they were written" in machine.does(
        "restore", tmp_path / "repository", "--check"
    )


def test_a_key_file_for_several_people_seals_for_each_of_them(machine, tmp_path, keys):
    second = machine.does("backup_key", tmp_path / "second")
    (tmp_path / "both").write_text(
        f"# head and office\n{keys[0]}\n{re.search('age1[0-9a-z]+', second)[0]}\n"
    )
    machine.does("backup", tmp_path / "repository", "--key", tmp_path / "both")
    for key in (keys[1], tmp_path / "second"):
        assert "went well" in machine.does(
            "restore", tmp_path / "repository", "--drill", "--key", key
        )


def test_a_secret_key_is_no_key_to_seal_with_and_never_printed(machine, tmp_path, keys):
    ran = machine.manage("backup", tmp_path / "repository", "--key", keys[1])
    assert ran.code != 0
    assert "no age recipient" in ran.said
    assert "AGE-SECRET-KEY" not in ran.said
    assert (tmp_path / "key").stat().st_mode & 0o077 == 0
