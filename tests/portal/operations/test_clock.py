"""A clock that leaps deletes nobody and no backup: a person says first that it is right."""

import datetime as dt
import os
from io import StringIO

import pytest
from django.core.management import CommandError, call_command
from django.utils import timezone
from freezegun import freeze_time

from assessment.jobs import sweep_voices
from assessment.models import VoiceReply
from portal.data_protection.data_export import files
from portal.data_protection.jobs import purge_schools, sweep_copies
from portal.data_protection.models import Leaver
from portal.operations.checks import data
from portal.operations.jobs import tick
from portal.people.jobs import forget
from portal.people.models import Child, Event
from tests.evidence.builders import make_submission

pytestmark = pytest.mark.servers
TODAY = dt.datetime(2026, 11, 25, 3, 0, tzinfo=dt.UTC)
DAY = dt.timedelta(days=1)


def old_enough(village, days: int = 0) -> tuple[Child, Event]:
    """Return a child and an entry of the log that are kept no longer in three years."""
    Child.objects.filter(pk=village.ben.pk).update(school_class=None)
    Leaver.note(village.school, TODAY.date())
    event = Event.objects.create(school=village.school, role="lead", what="signed in", at=TODAY)
    make_submission(village)
    return village.ben, event


def night(moment: dt.datetime) -> None:
    """Do what a night does, a tick first, as it comes in every minute."""
    with freeze_time(moment):
        tick()
        purge_schools()
        forget()


def is_there(*things) -> list[bool]:
    return [type(each)._base_manager.filter(pk=each.pk).exists() for each in things]


@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("leap", [3 * 365 * DAY, -3 * 365 * DAY, 15 * DAY])
def test_a_night_after_the_clock_leapt_deletes_nobody_and_says_why(village, leap, caplog):
    things = old_enough(village)
    night(TODAY)
    for hour in range(3):
        night(TODAY + leap + dt.timedelta(hours=hour))
    assert is_there(*things) == [True, True]
    assert Child.objects.count() == 4
    assert "clock" in caplog.text


@pytest.mark.django_db(transaction=True)
def test_once_a_person_has_said_the_date_what_is_old_goes_as_ever(village):
    things = old_enough(village)
    night(TODAY)
    later = TODAY + 3 * 365 * DAY
    night(later)
    with freeze_time(later):
        call_command("confirm_clock", later.date().isoformat(), stdout=StringIO())
    night(later)
    assert is_there(*things) == [False, False]


@pytest.mark.django_db(transaction=True)
def test_a_clock_that_is_set_right_again_needs_nobody(village):
    a_year_old = TODAY - 364.5 * DAY
    event = Event.objects.create(
        school=village.school, role="lead", what="signed in", at=a_year_old
    )
    night(TODAY)
    night(TODAY + 3 * 365 * DAY)
    assert is_there(event) == [True]
    night(TODAY + DAY)
    assert is_there(event) == [False]


def sweep(moment: dt.datetime) -> None:
    """Sweep what is left over, a tick first."""
    with freeze_time(moment):
        tick()
        sweep_copies()
        sweep_voices()


@pytest.mark.django_db
@pytest.mark.parametrize("leap", [3 * 365 * DAY, 15 * DAY])
def test_a_sweep_after_the_clock_leapt_deletes_no_copy_and_no_spoken_reply(village, leap):
    left = files.folder() / files.new_name()
    left.write_bytes(b"a copy")
    os.utime(left, (TODAY.timestamp(),) * 2)
    reply = VoiceReply.objects.create(
        submission=make_submission(village), name="a voice", size=1, taken_back_at=TODAY
    )
    for moment in (TODAY, TODAY + leap):
        sweep(moment)
        assert left.exists()
        assert is_there(reply) == [True]
    with freeze_time(TODAY + leap):
        call_command("confirm_clock", (TODAY + leap).date().isoformat(), stdout=StringIO())
    sweep(TODAY + leap)
    assert not left.exists()
    assert is_there(reply) == [False]


@pytest.mark.django_db
def test_a_wrong_date_confirms_nothing():
    with freeze_time(TODAY):
        tick()
    with freeze_time(TODAY + 3 * 365 * DAY):
        with pytest.raises(CommandError, match="Set the clock first"):
            call_command("confirm_clock", "2026-11-25")
        assert next(line.level for line in data.check_clock()) == "bad"


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("passed", "level"),
    [(14 * DAY, "ok"), (15 * DAY, "bad"), (-0.9 * DAY, "ok"), (-1.1 * DAY, "bad")],
)
def test_doctor_says_that_the_clock_leapt_and_what_to_do(passed, level):
    with freeze_time(TODAY):
        tick()
    with freeze_time(TODAY + passed):
        line = next(iter(data.check_clock()))
    assert line.about == "clock"
    if level == "bad":
        assert line.level == level
        assert "2026-11-25 03:00" in line.words
        assert "confirm_clock" in line.words
    else:
        assert "confirm_clock" not in line.words


def leap(machine, days: int) -> None:
    """Have *machine* think that it last ran so many days ago."""
    machine.python(
        "from portal.operations import clock; import datetime as dt;"
        f"clock.confirm(dt.datetime.now(dt.UTC) - dt.timedelta(days={days}))"
    )


@pytest.mark.parametrize("days", [3 * 365, -30])
def test_a_backup_by_a_clock_that_leapt_is_made_and_drops_no_other(machine, tmp_path, days):
    repository = tmp_path / "repository"
    machine.does("backup", repository)
    next(repository.glob("20*")).rename(repository / "2023-01-02T030405Z")
    leap(machine, days)
    said = machine.does("backup", repository, "--keep", "1")
    assert "Nothing was dropped" in said
    assert "confirm_clock" in said
    assert len(list(repository.glob("20*"))) == 2
    assert machine.does("restore", repository / "2023-01-02T030405Z", "--check")
    machine.does("confirm_clock", timezone.now().date().isoformat())
    assert "dropped" in machine.does("backup", repository)
    assert not (repository / "2023-01-02T030405Z").exists()
