"""A system that cannot wall in its decoders says so, and serves no real family."""

import pytest
from django.core.management import CommandError, call_command

import evidence.operations
from evidence.media import Walls
from portal.management.commands.demo import Command as Demo
from portal.operations.checks import every_check, safety
from portal.operations.checks.configuration import check_system
from portal.operations.checks.lines import Level

ALL = dict.fromkeys(("limits", "namespaces", "user", "folder", "files", "calls"), "")
ELSEWHERE = {**dict.fromkeys(ALL, "only Linux has it"), "limits": ""}
FEWER = {**ALL, "namespaces": "the kernel says: Operation not permitted"}


@pytest.fixture
def standing(monkeypatch):
    """Give a function that says which walls can be raised."""
    return lambda reasons: monkeypatch.setattr(
        evidence.operations, "raisable", lambda: Walls(reasons)
    )


@pytest.mark.parametrize("reasons", [ELSEWHERE, {"decoder": "it does not start: exit code 1"}])
def test_a_system_without_the_list_of_calls_serves_no_real_family(reasons, standing, monkeypatch):
    standing(reasons)
    monkeypatch.setattr("portal.management.commands.serve.unsafe_settings", lambda *_: [])

    with pytest.raises(CommandError, match=r"Use Linux on x86-64 or 64-bit ARM\. Missing: "):
        call_command("serve", "--port", "1")
    assert every_check.worst(check_system()) == Level.BAD


def test_a_missing_wall_that_the_others_stand_in_for_is_told_by_doctor_and_stops_nothing(standing):
    standing(FEWER)

    assert safety.unfit_system() == []
    (line,) = check_system()
    assert line.level == Level.LOOK
    assert "life apart from other processes (the kernel says" in line.words


def test_with_all_walls_nothing_is_said(standing):
    standing(ALL)

    assert safety.unfit_system() == []
    assert every_check.worst(check_system()) == Level.OK


@pytest.mark.parametrize(("reasons", "times"), [(ELSEWHERE, 1), (ALL, 0)])
def test_the_demo_says_once_that_it_decodes_with_the_limits_there_are(
    reasons, times, standing, capsys
):
    standing(reasons)

    Demo().say_where_to_go(is_open=False)

    assert capsys.readouterr().out.count("On this system:") == times
