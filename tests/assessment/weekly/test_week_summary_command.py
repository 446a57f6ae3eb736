"""The week of a class, printed on demand."""

import json
import subprocess
import sys
from io import StringIO
from pathlib import Path

import pytest
from django.core.management import CommandError, call_command
from freezegun import freeze_time

from assessment.models import SummaryMail, WeekSummary
from portal.people.models import SchoolClass
from tests.assessment.builders import send, set_day

ROOT = Path(__file__).resolve().parents[3]


def printed(*arguments):
    """Give what the command prints."""
    out = StringIO()
    call_command("week_summary", *arguments, stdout=out)
    return out.getvalue()


@pytest.fixture
def sent(village):
    """Let Aisha's first home send on Monday, and stop the clock on Wednesday."""
    with freeze_time("2026-11-25 12:00"):
        send(village.aisha, village.first_home, set_day(village.robins))
        yield village


def test_it_prints_the_week_as_it_stands_and_keeps_nothing(sent):
    text = printed("--class", "Robins", "--week", "2026-W48")
    assert "Robins, Harbour Lane: week 2026-W48 (2026-11-23 to 2026-11-29)" in text
    assert "Ben T: nothing so far" in text
    assert not WeekSummary.objects.exists()
    assert not SummaryMail.objects.exists()


def test_it_prints_json(sent):
    data = json.loads(printed("--class", "Robins", "--week", "2026-W48", "--format", "json"))
    assert (data["children"], data["heard_from"]) == (2, 1)
    assert data["sent"] == [{"child": "Aisha K", "days": 1, "submissions": 1}]


def test_with_two_classes_of_a_name_the_school_is_asked_for(sent):
    SchoolClass.objects.filter(name="Larks").update(name="Robins")
    with pytest.raises(CommandError, match="add --school"):
        printed("--class", "Robins", "--week", "2026-W48")
    assert "Hill Top" in printed("--class", "Robins", "--week", "2026-W48", "--school", "Hill Top")


@pytest.mark.parametrize(
    ("arguments", "named"),
    [
        (("--class", "Robins", "--week", "2026-W60"), "--week"),
        (("--class", "Robins", "--week", "last"), "--week"),
        (("--class", "Owls", "--week", "2026-W48"), "Owls"),
        (("--class", "Robins", "--week", "2030-W10"), "2030-W10"),
        (("--class", "Robins", "--week", "2026-W48", "--school", "Nowhere"), "Nowhere"),
    ],
)
def test_wrong_arguments_are_refused_in_one_line_that_names_them(village, arguments, named):
    with pytest.raises(CommandError) as refused:
        printed(*arguments)
    assert named in str(refused.value)
    assert "\n" not in str(refused.value)
    assert refused.value.returncode == 2


@pytest.mark.parametrize("arguments", [(), ("--class", "Robins"), ("--format", "xml")])
def test_the_command_line_ends_with_2_and_one_line(arguments):
    ran = subprocess.run(
        [sys.executable, "manage.py", "week_summary", *arguments],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert ran.returncode == 2
    assert len(ran.stderr.strip().splitlines()) == 1
