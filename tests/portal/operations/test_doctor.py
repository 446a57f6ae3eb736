"""`doctor` says in words how each thing is, and what to do; what it cannot check it says too."""

import datetime as dt
import os
import ssl
import subprocess
import sys

import pytest
import trustme
from django.db.migrations.recorder import MigrationRecorder
from django.utils import timezone

from assessment.weekly.summaries import make_due_now
from portal.operations.checks import configuration, data, every_check, mail, site, work
from portal.operations.checks.lines import Level, Line
from portal.operations.models import Mark
from tests.evidence.builders import make_arrived_piece, make_submission
from tests.portal.operations.servers import name_server, website

pytestmark = pytest.mark.django_db
GOOD = {
    "school.example": ["v=spf1 mx -all", "something-else=1"],
    "_dmarc.school.example": ["v=DMARC1; p=reject"],
    "mail._domainkey.school.example": ["v=DKIM1; k=rsa; p=MIIB"],
}


@pytest.fixture(autouse=True)
def place(settings, tmp_path):
    """Give the tests folders of their own."""
    settings.DATA_DIR = tmp_path / "data"
    settings.MEDIA_ROOT = tmp_path / "data" / "media"
    settings.MAIL_FROM = "Kitchen Counter <portal@school.example>"
    settings.DKIM_SELECTOR = "mail"


def levels(lines) -> dict[str, Level]:
    """Return the worst level for each thing that was looked at."""
    found: dict[str, Level] = {}
    for line in lines:
        found[line.about] = every_check.worst([line, Line(found.get(line.about, "ok"), "", "")])
    return found


def words(lines) -> str:
    """Return everything that was said."""
    return "\n".join(line.words for line in lines)


def test_an_up_to_date_database_is_well_and_one_with_a_migration_to_come_is_not():
    assert levels(data.check_database()) == {"database": "ok"}
    MigrationRecorder.Migration.objects.filter(app="evidence").delete()
    lines = list(data.check_database())
    assert levels(lines) == {"database": "bad"}
    assert "manage.py prepare" in words(lines)


def test_the_clocks_of_this_machine_and_its_database_agree():
    assert levels(data.check_clock()) == {"clock": "ok"}


def test_a_folder_that_cannot_be_written_is_bad(settings, tmp_path):
    assert levels(data.check_storage()) == {"storage": "ok"}
    assert not list(settings.MEDIA_ROOT.iterdir())
    (tmp_path / "file").touch()
    settings.MEDIA_ROOT = tmp_path / "file" / "media"
    assert levels(data.check_storage()) == {"storage": "bad"}


def test_a_file_that_other_users_of_the_machine_can_read_is_bad_and_named(settings):
    settings.DATA_DIR.mkdir()
    settings.DATA_DIR.chmod(0o755)
    (settings.DATA_DIR / "kitchen-counter.sqlite3").touch(mode=0o600)
    assert levels(data.check_modes()) == {"modes": Level.LOOK}
    (settings.DATA_DIR / "kitchen-counter.sqlite3").chmod(0o640)
    (line,) = data.check_modes()
    assert line.level == Level.BAD
    assert "kitchen-counter.sqlite3" in line.words
    settings.DATA_DIR.chmod(0o700)
    assert levels(data.check_modes()) == {"modes": Level.OK}


def test_whatever_folder_it_is_given_the_portal_s_data_is_for_its_own_user(settings, tmp_path):
    data_dir = tmp_path / "made-beforehand"
    data_dir.mkdir()
    data_dir.chmod(0o755)
    environment = {**os.environ, "DATA_DIR": str(data_dir)}
    for name in ("DATABASE_URL", "DJANGO_SETTINGS_MODULE"):
        environment.pop(name, None)
    prepare = [sys.executable, str(settings.BASE_DIR / "manage.py"), "prepare"]
    subprocess.run(prepare, env=environment, check=True, umask=0o022, capture_output=True)
    made = list(data_dir.rglob("*"))
    assert data_dir / "kitchen-counter.sqlite3" in made
    assert [each for each in made if data.is_open_to_others(each)] == []


@pytest.mark.parametrize(("free", "level"), [(9e9, "ok"), (4e9, "look"), (0.5e9, "bad")])
def test_little_free_space_is_told_before_families_cannot_send(monkeypatch, tmp_path, free, level):
    usage = type("Usage", (), {"free": free})()
    monkeypatch.setattr(data.shutil, "disk_usage", lambda _folder: usage)
    assert levels(data.check_space(tmp_path)) == {"storage": level}


@pytest.mark.parametrize(("days", "level"), [(1, "ok"), (3, "look"), (8, "look"), (9, "bad")])
def test_a_backup_older_than_eight_days_is_bad(days, level):
    Mark.make(Mark.Name.BACKUP, timezone.now() - dt.timedelta(days=days) + dt.timedelta(minutes=1))
    assert levels(data.check_upkeep())["backup"] == level


def test_a_portal_that_was_never_backed_up_is_bad_and_without_a_drill_worth_a_look():
    found = levels(data.check_upkeep())
    assert found == {"backup": "bad", "restore drill": "look", "comparing of files": "look"}


def test_a_beat_that_stopped_ten_minutes_ago_is_bad():
    assert levels(work.check_beat()) == {"beat": "bad"}
    Mark.make(Mark.Name.TICK, timezone.now() - dt.timedelta(minutes=10))
    assert "10 minutes ago" in words(work.check_beat())
    Mark.make(Mark.Name.TICK)
    assert levels(work.check_beat()) == {"beat": "ok"}


def test_a_piece_unfinished_for_more_than_ten_minutes_is_bad_and_says_what_to_do(village):
    make_due_now()
    long_ago = timezone.now() - dt.timedelta(minutes=9)
    piece = make_arrived_piece(make_submission(village), arrived_at=long_ago)
    assert set(levels(work.check_figures()).values()) == {"ok"}
    type(piece).objects.update(arrived_at=long_ago - dt.timedelta(minutes=2))
    bad = [line for line in work.check_figures() if line.level == "bad"]
    assert "worker" in words(bad)
    assert len(bad) == 1


def test_a_broker_that_is_away_is_bad_and_says_that_nothing_is_lost(monkeypatch):
    def away():
        raise work.BrokerAwayError

    monkeypatch.setattr(work, "queue_lengths", away)
    lines = list(work.check_broker())
    assert levels(lines) == {"broker": "bad"}
    assert "Nothing is lost" in words(lines)


def test_records_that_let_others_trust_our_mail_are_found():
    with name_server(GOOD) as resolver:
        assert levels(mail.check_records(resolver)) == dict.fromkeys(("SPF", "DMARC", "DKIM"), "ok")


@pytest.mark.parametrize(
    ("name", "records", "about", "level"),
    [
        ("school.example", ["something-else=1"], "SPF", "bad"),
        ("school.example", ["v=spf1 a -all", "v=spf1 mx -all"], "SPF", "bad"),
        ("_dmarc.school.example", [], "DMARC", "bad"),
        ("_dmarc.school.example", ["v=DMARC1; p=none"], "DMARC", "look"),
        ("mail._domainkey.school.example", [], "DKIM", "bad"),
        ("mail._domainkey.school.example", ["v=DKIM1; p="], "DKIM", "bad"),
    ],
)
def test_a_missing_or_weak_mail_record_is_named(name, records, about, level):
    with name_server(GOOD | {name: records}) as resolver:
        found = levels(mail.check_records(resolver))
    assert found == dict.fromkeys(("SPF", "DMARC", "DKIM"), "ok") | {about: level}


@pytest.mark.parametrize(("known", "silent"), [({}, False), (GOOD, True)])
def test_mail_records_that_cannot_be_looked_up_are_never_called_missing(monkeypatch, known, silent):
    monkeypatch.setattr(mail, "SECONDS", 0.3)
    with name_server(known, silent=silent) as resolver:
        lines = list(mail.check_records(resolver))
    assert levels(lines) == {"mail records": "look"}
    assert "Could not be checked" in words(lines)


def test_a_sender_on_this_machine_alone_is_looked_up_nowhere(settings):
    settings.MAIL_FROM = "portal@localhost"
    assert levels(mail.check_records()) == {"mail records": "look"}


def test_a_mail_server_that_is_not_there_is_bad(settings):
    settings.EMAIL_BACKEND = "django.core.mail.backends.smtp.EmailBackend"
    settings.EMAIL_HOST, settings.EMAIL_PORT = "127.0.0.1", 1
    assert levels(mail.check_server()) == {"mail server": "bad"}


@pytest.mark.parametrize(("days", "level"), [(200, "ok"), (10, "bad")])
def test_a_certificate_that_runs_out_within_a_fortnight_is_bad(settings, days, level):
    authority = trustme.CA()
    until = dt.datetime.now(dt.UTC) + dt.timedelta(days=days)
    trusting = ssl.create_default_context()
    authority.configure_trust(trusting)
    with website(authority.issue_cert("localhost", not_after=until)) as port:
        settings.TLS, settings.SITE_URL = True, f"https://localhost:{port}"
        lines = list(site.check_certificate(trusting))
    assert levels(lines) == {"certificate": level}
    assert f"{days - 1} days" in words(lines)


def test_a_certificate_that_no_browser_trusts_is_bad(settings):
    with website(trustme.CA().issue_cert("localhost")) as port:
        settings.TLS, settings.SITE_URL = True, f"https://localhost:{port}"
        assert levels(site.check_certificate()) == {"certificate": "bad"}


def test_a_site_that_cannot_be_reached_is_said_to_be_unchecked(settings):
    settings.TLS, settings.SITE_URL = True, "https://127.0.0.1:1"
    lines = list(site.check_certificate())
    assert levels(lines) == {"certificate": "look"}
    assert "Could not be checked" in words(lines)


def test_an_unsafe_setting_is_bad_in_the_words_of_the_launcher(settings):
    settings.DEBUG = True
    lines = list(configuration.check_settings())
    assert levels(lines)["settings"] == "bad"
    assert "DEBUG is on" in words(lines)


def test_a_check_that_breaks_is_told_and_the_others_still_run(monkeypatch):
    def breaks():
        raise RuntimeError("Canary")

    fine = ("fine", lambda: [Line(Level.OK, "fine", "Well.")])
    monkeypatch.setattr(every_check, "HERE", (("broken", breaks), fine))
    lines = list(every_check.look_over(offline=True))
    assert levels(lines) == {"broken": "bad", "fine": "ok"}
    assert "Canary" not in words(lines)
