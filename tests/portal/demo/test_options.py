"""What `demo` is told on the command line becomes its addresses."""

import os

import pytest

from portal.supervisor import options, own_address


@pytest.fixture
def told(monkeypatch):
    """Give a function that settles a command's words, and then tells a variable."""
    monkeypatch.setattr(os, "environ", dict(os.environ))
    for name in ("SITE_URL", "DEMO_AGAIN"):
        os.environ.pop(name, None)

    def settle(*words: str) -> str:
        options.settle("demo", words)
        return os.environ["SITE_URL"]

    return settle


def test_without_a_host_the_demo_stays_on_this_machine(told):
    assert told("--port", "8123") == "http://localhost:8123"
    assert told("--host", "127.0.0.1") == told("--host", "localhost") == "http://localhost:8000"
    assert "DEMO_AGAIN" not in os.environ


def test_slips_and_mails_of_a_demo_that_is_open_carry_an_address_phones_reach(told, monkeypatch):
    monkeypatch.setattr(own_address, "own_address", lambda: "192.168.1.20")
    assert told("--host", own_address.EVERY) == "http://192.168.1.20:8000"
    assert told("--host", "10.1.2.3", "--port", "9000") == "http://10.1.2.3:9000"
    assert told("--host", "kitchen.local") == "http://kitchen.local:8000"


def test_a_machine_in_no_network_is_told_to_name_its_address(told, monkeypatch):
    def nowhere() -> str:
        raise own_address.NoAddressError("This machine is in no network. Name its address: ...")

    monkeypatch.setattr(own_address, "own_address", nowhere)
    with pytest.raises(SystemExit, match="no network"):
        told("--host", own_address.EVERY)


def test_starting_again_is_told_to_the_command_that_prepares(told):
    told("--again")
    assert os.environ["DEMO_AGAIN"] == "1"
