"""What a restored portal must not do again: send mails, let people in, bring back the erased."""

import datetime as dt
import re

import pytest

from tests.portal.operations.machine import Machine

pytestmark = pytest.mark.proof

RUN_ALL_MAILS = (
    "from assessment.jobs import make_due_summaries, send_waiting_mails;"
    "from portal.people.jobs import send_waiting_codes, send_waiting_invitations;"
    "make_due_summaries(); send_waiting_mails(); send_waiting_codes(); send_waiting_invitations()"
)


@pytest.fixture
def backup(machine: Machine, tmp_path):
    """Give the folder with a backup of the machine, taken while a mail and a code waited."""
    machine.python(
        "from portal.people.models import *;"
        "from assessment.weekly.summaries import make_due_now; make_due_now();"
        "aisha = Child.objects.get(first_name='Aisha');"
        "home = Home.objects.earliest('pk');"
        "by = User.objects.get(email='office@example.org');"
        "Invitation.ask_by_mail(aisha, home, 'canary@example.org', by)"
    )
    machine.does("backup", tmp_path / "repository")
    return tmp_path / "repository"


def mails(machine: Machine) -> int:
    """Return how many mails have gone out of *machine*."""
    folder = machine.data.with_name(f"{machine.data.name}-mails")
    return sum(path.read_text().count("Subject:") for path in folder.glob("*"))


def restored(new_machine, repository, *more) -> Machine:
    """Restore the backup in *repository* onto a machine that has nothing."""
    other = new_machine("other")
    other.does("restore", repository, "--data", other.data, *more)
    return other


@pytest.mark.servers
def test_mails_that_waited_when_the_backup_was_taken_are_not_sent_by_the_restored_portal(
    machine, new_machine, backup
):
    other = restored(new_machine, backup)
    other.python(RUN_ALL_MAILS)
    assert mails(other) == 0
    machine.python(RUN_ALL_MAILS)
    assert mails(machine) > 2


def test_a_week_that_was_mailed_after_the_backup_is_not_mailed_again(
    machine, new_machine, tmp_path
):
    machine.does("backup", tmp_path / "before-friday")
    machine.python(RUN_ALL_MAILS)
    assert mails(machine) > 0
    other = restored(new_machine, tmp_path / "before-friday")
    other.python(RUN_ALL_MAILS)
    assert mails(other) == 0
    summaries = "SELECT count(*) FROM assessment_weeksummary"
    assert other.ask(summaries) == machine.ask(summaries)


def test_nobody_is_signed_in_or_invited_on_the_restored_portal(machine, new_machine, tmp_path):
    machine.python(
        "from django.contrib.sessions.backends.db import SessionStore;"
        "session = SessionStore(); session['who'] = 1; session.create()"
    )
    open_invitations = (
        "SELECT count(*) FROM people_invitation WHERE used_at IS NULL AND revoked_at IS NULL"
    )
    sessions = "SELECT count(*) FROM django_session"
    assert machine.ask(open_invitations) != [(0,)]
    assert machine.ask(sessions) != [(0,)]
    machine.does("backup", tmp_path / "repository")
    other = restored(new_machine, tmp_path / "repository")
    assert other.ask(open_invitations) == [(0,)]
    assert other.ask(sessions) == [(0,)]


def erase(machine: Machine, name: str, *, noted_at: str = "") -> None:
    """Erase a child for good, and note it as the portal does."""
    when = f", dt.datetime.fromisoformat('{noted_at}')" if noted_at else ""
    machine.python(
        "import datetime as dt; from portal.people.models import Child;"
        "from portal.operations import erasure_list as erasures;"
        f"child = Child.objects.get(first_name='{name}');"
        f"erasures.note('people.child', child.pk{when}); child.delete()"
    )


@pytest.mark.servers
def test_a_child_erased_after_the_backup_stays_erased_with_every_file(
    machine, new_machine, tmp_path
):
    machine.does("backup", tmp_path / "repository")
    old = next((tmp_path / "repository").glob("20*"))
    bens = machine.ask(
        "SELECT name FROM evidence_rendition JOIN evidence_piece p ON p.id = piece_id "
        "JOIN evidence_submission s ON s.id = submission_id "
        "JOIN people_child c ON c.id = s.child_id WHERE c.first_name = 'Ben'"
    )
    assert bens
    erase(machine, "Ben")
    machine.does("backup", tmp_path / "repository")
    other = restored(new_machine, old)
    assert not other.ask("SELECT id FROM people_child WHERE first_name = 'Ben'")
    assert other.ask("SELECT id FROM people_child WHERE first_name = 'Aisha'")
    assert not {name for (name,) in bens} & other.files().keys()
    assert len(other.files()) > 80


def test_an_erasure_from_before_the_backup_touches_nobody_who_came_since(
    machine, new_machine, tmp_path
):
    erase(machine, "Cal", noted_at="2026-01-05T09:00:00+00:00")
    machine.python(
        "from portal.operations import erasure_list; from portal.people.models import Child;"
        "import datetime as dt;"
        "erasure_list.note('people.child', Child.objects.get(first_name='Ben').pk,"
        " dt.datetime(2026, 1, 5, tzinfo=dt.UTC))"
    )
    machine.does("backup", tmp_path / "repository")
    other = restored(new_machine, tmp_path / "repository")
    assert other.ask("SELECT id FROM people_child WHERE first_name = 'Ben'")


def test_the_list_of_erasures_itself_comes_back_with_the_newest_backup(
    machine, new_machine, tmp_path
):
    machine.does("backup", tmp_path / "repository")
    old = next((tmp_path / "repository").glob("20*"))
    erase(machine, "Ben")
    machine.does("backup", tmp_path / "repository")
    other = restored(new_machine, old)
    listed = (other.data / "erasures.jsonl").read_text()
    assert listed.startswith((machine.data / "erasures.jsonl").read_text())
    assert dt.datetime.now(dt.UTC).strftime("%Y") in listed
    assert "Ben" not in listed


def test_what_was_erased_after_the_last_backup_stays_erased_by_the_lost_portals_own_list(
    machine, new_machine, tmp_path
):
    machine.does("backup", tmp_path / "repository")
    erase(machine, "Ben")
    other = restored(
        new_machine, tmp_path / "repository", "--erasures", machine.data / "erasures.jsonl"
    )
    assert not other.ask("SELECT id FROM people_child WHERE first_name = 'Ben'")
    assert other.ask("SELECT id FROM people_child WHERE first_name = 'Aisha'")


END_AND_REFUSE = (
    "from portal.people.models import *;"
    "from portal.people.families.guardianships import end_guardianship;"
    "from portal.people.accounts.staff import add_post, change_post, end_post;"
    "post = lambda who: StaffPost.objects.get(user__email=who + '@example.org');"
    "tie = Guardianship.objects.get(adult__email='second-home@example.org');"
    "mother = Guardianship.objects.get("
    "  adult__email='family@example.org', child__first_name='Aisha');"
    "Consent.answer(mother, Purpose.DISPLAY, given=False, wording=1);"
    "end_guardianship(tie);"
    "end_post(post('assistant'));"
    "add_post(post('lead').school, email='new@example.org', name='New', role='lead', classes=[],"
    "  by_mail=False);"
    "change_post(post('lead'), role='teacher', classes=[]);"
    "change_post(post('other-teacher'), role='assistant', classes=[])"
)
TIES = "SELECT count(*) FROM people_guardianship WHERE ended_at IS NULL"
POSTS = (
    "SELECT u.email, p.role, count(c.id) FROM people_staffpost p "
    "JOIN people_user u ON u.id = p.user_id "
    "LEFT JOIN people_staffpost_classes c ON c.staffpost_id = p.id "
    "WHERE p.ended_at IS NULL GROUP BY u.email, p.role ORDER BY u.email"
)
NOS = "SELECT party, purpose, wording FROM people_consent WHERE NOT given"


@pytest.mark.servers
def test_access_that_was_ended_and_consent_that_was_refused_since_the_backup_stay_so(
    machine, new_machine, tmp_path
):
    machine.does("backup", tmp_path / "repository")
    machine.python(END_AND_REFUSE)
    other = new_machine("other")
    said = other.does(
        "restore", tmp_path / "repository", "--data", other.data,
        "--erasures", machine.data / "erasures.jsonl",
    )  # fmt: skip
    assert other.ask(TIES) == machine.ask(TIES)
    now = {email: (role, classes) for email, role, classes in other.ask(POSTS)}
    assert "assistant@example.org" not in now
    assert now["lead@example.org"] == ("teacher", 0)
    assert now["other-teacher@example.org"] == ("assistant", 0)
    assert now["teacher@example.org"] == ("teacher", 1)
    assert other.ask(NOS) == machine.ask(NOS) != []
    # The lead who was added since is not in the backup.
    assert "has no lead: run manage.py add_lead" in said


def test_access_that_was_ended_before_the_backup_is_not_ended_for_somebody_new(
    machine, new_machine, tmp_path
):
    machine.python(
        "from portal.people.models import Guardianship; from portal.operations import erasure_list;"
        "import datetime as dt;"
        "erasure_list.note('people.guardianship', Guardianship.objects.earliest('pk').pk,"
        " dt.datetime(2026, 1, 5, tzinfo=dt.UTC), erasure_list.ENDED)"
    )
    machine.does("backup", tmp_path / "repository")
    assert restored(new_machine, tmp_path / "repository").ask(TIES) == machine.ask(TIES)


def test_the_list_names_nobody_whose_access_was_ended(machine):
    machine.python(END_AND_REFUSE)
    listed = (machine.data / "erasures.jsonl").read_text()
    assert len(listed.splitlines()) == 5
    assert not re.search("aisha|example|teacher@|home@", listed.lower())
