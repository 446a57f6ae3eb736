"""What is erased is gone: from rows, files, what is on its way, and from backups brought back."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from django.apps import apps
from django.contrib.sessions.models import Session
from django.db import transaction
from django.utils import timezone

from evidence.models import Submission
from evidence.submissions import other_children
from portal.data_protection.erasure import of_people
from portal.data_protection.erasure.erase import HeldError, close_school, erase_again, erase_child
from portal.data_protection.jobs import make_copy
from portal.data_protection.models import DataExport, LegalHold
from portal.operations import erasure_list
from portal.operations.hooks import Restored
from portal.people.models import Child, Guardianship, Home, RosterRun, School, User
from tests.evidence.builders import files_in_store, make_ready_piece, make_submission
from tests.portal.data_protection.builders import plant

ROOT = Path(__file__).resolve().parents[3]
pytestmark = [pytest.mark.django_db, pytest.mark.servers]


def hits(folder: Path, words: dict[str, str]) -> set[str]:
    """Return the places whose word stands in any file below *folder*, byte for byte."""
    contents = [path.read_bytes() for path in folder.rglob("*") if path.is_file()]
    return {
        place
        for place, word in words.items()
        if any(word.encode() in content for content in contents)
    }


def texts_of_every_row() -> str:
    """Return all that stands in any row of any table."""
    rows = []
    for model in apps.get_models():
        for row in model._base_manager.values_list():
            rows.append(" ".join(bytes(v).decode("latin1") if isinstance(v, (bytes, memoryview))
                                 else str(v) for v in row))  # fmt: skip
    return "\n".join(rows)


def run(action: str, data: Path, words: Path) -> str:
    """Do *action* in a process with its data in *data*, and give what it wrote to its log."""
    kept = {name: os.environ[name] for name in ("PATH", "HOME") if name in os.environ}
    told = {"DATA_DIR": str(data), "DJANGO_SETTINGS_MODULE": "portal.settings"}
    told["PYTHONDONTWRITEBYTECODE"] = "1"
    command = [
        sys.executable,
        "-m",
        "tests.portal.data_protection.plant_and_erase",
        action,
        str(words),
    ]
    if action == "migrate":
        command = [sys.executable, "manage.py", "migrate", "--verbosity", "0"]
    ran = subprocess.run(
        command, cwd=ROOT, env=kept | told, capture_output=True, text=True, check=False
    )
    assert ran.returncode == 0, ran.stderr
    return ran.stdout + ran.stderr


@pytest.mark.stack
def test_of_fifty_planted_words_no_byte_is_left_on_the_disk(tmp_path):
    data, told = tmp_path / "data", tmp_path / "words.json"
    data.mkdir()
    run("migrate", data, told)
    logs = run("plant", data, told)
    words = json.loads(told.read_text())["words"]
    hidden = {"session.message"}  # The session is packed: what it holds is looked at below.
    assert len(words) >= 50
    assert hits(data, words) == set(words) - hidden
    logs += run("erase", data, told)
    assert hits(data, words) == set()
    assert not [word for word in words.values() if word in logs]


@pytest.mark.django_db(transaction=True)
def test_no_row_and_no_file_holds_a_word_about_an_erased_child(village, own_data):
    life = plant(village, {})
    assert {place for place, word in life.words.items() if word in texts_of_every_row()}
    erase_child(village.aisha)
    left = texts_of_every_row()
    assert [place for place, word in life.words.items() if word in left] == []
    assert hits(own_data, life.words) == set()


@pytest.mark.django_db(transaction=True)
def test_the_message_still_to_be_shown_that_names_the_child_is_dropped(village):
    plant(village, {})
    erase_child(village.aisha)
    kept = Session.objects.get(session_key="t" * 32).get_decoded()
    assert kept == {"_auth_user_id": str(village.people["teacher"].pk)}


@pytest.mark.django_db(transaction=True)
def test_others_keep_what_is_theirs(village):
    plant(village, {})
    ben = make_submission(village, village.ben, village.bens_home)
    file = make_ready_piece(ben)
    erase_child(village.aisha)
    assert set(Child.objects.filter(school=village.school)) == {village.ben, village.cal}
    assert Submission.objects.get().pk == ben.pk
    assert len(files_in_store()) == file.renditions.count()
    run_of_ben = RosterRun.objects.exclude(changes=[]).get()
    assert [change["child"] for change in run_of_ben.changes] == [village.ben.pk]


@pytest.mark.django_db(transaction=True)
def test_an_adult_of_another_child_stays_and_one_of_nobody_goes(village):
    erase_child(village.aisha)
    left = set(User.objects.values_list("email", flat=True))
    assert "family@example.org" in left  # Cal's too
    assert "second-home@example.org" not in left
    assert set(Home.objects.filter(school=village.school)) >= {village.first_home}
    assert not Home.objects.filter(pk=village.second_home.pk).exists()


@pytest.mark.django_db(transaction=True)
def test_a_picture_that_shows_an_erased_child_stays_behind_the_gate(village):
    piece = make_ready_piece(make_submission(village, village.ben, village.bens_home))
    other_children.name_children(
        piece, [village.aisha], strangers=False, by=village.people["teacher"]
    )
    erase_child(village.aisha)
    assert piece.others_shown.children.get().child is None


def test_what_is_held_is_not_erased(village):
    LegalHold.place(village.aisha, None, village.people["lead"])
    with pytest.raises(HeldError):
        erase_child(village.aisha)
    with pytest.raises(HeldError):
        close_school(village.school)
    assert Child.objects.filter(pk=village.aisha.pk).exists()
    assert erasure_list.read(erasure_list.path()) == []


@pytest.mark.django_db(transaction=True)
def test_the_list_of_erasures_names_keys_alone_before_and_after(village):
    pk, home = village.aisha.pk, village.second_home.pk
    account = village.people["second home"].pk
    erase_child(village.aisha)
    noted = [(each.model, each.pk) for each in erasure_list.read(erasure_list.path())]
    assert noted[:2] == [("people.child", pk), ("people.child", pk)]
    assert noted[2:] == [("people.home", home), ("people.user", account)]


def test_a_line_of_before_the_details_had_their_name_still_says_what_was_ended(village):
    line = '{"at": "2026-11-25T13:45:00+00:00", "model": "people.guardianship", "pk": 7,'
    line += ' "what": "ended", "told": {"adult": 3}}\n'
    erasure_list.path().write_text(line)
    assert [each.details for each in erasure_list.read(erasure_list.path())] == [{"adult": 3}]


@pytest.mark.django_db(transaction=True)
def test_an_older_backup_brought_back_does_not_bring_the_child_back(village, own_data):
    taken_at = timezone.now()
    life = plant(village, {})
    erasure_list.note("people.child", village.aisha.pk)
    erasure_list.note("people.home", village.second_home.pk)
    erasure_list.note("people.user", village.people["second home"].pk)
    noted = tuple(erasure_list.read(erasure_list.path()))
    (said,) = erase_again(Restored(taken_at, noted))
    assert said.startswith("3 erasures made since the backup are made again: ")
    left = texts_of_every_row()
    assert [place for place, word in life.words.items() if word in left] == []
    assert hits(own_data, life.words) == set()


def test_what_was_erased_before_the_backup_is_not_looked_for_in_it(village):
    erasure_list.note("people.child", village.aisha.pk)
    noted = tuple(erasure_list.read(erasure_list.path()))
    list(erase_again(Restored(timezone.now(), noted)))
    assert Child.objects.filter(pk=village.aisha.pk).exists()


@pytest.mark.django_db(transaction=True)
def test_a_school_that_closes_takes_everything_with_it_and_nothing_of_another(village, own_data):
    life = plant(village, {})
    school = village.school.pk
    dot = Guardianship.objects.get(child=village.dot)
    assert close_school(village.school) == 3
    assert not School.objects.filter(pk=school).exists()
    left = texts_of_every_row()
    assert [place for place, word in life.words.items() if word in left] == []
    assert Guardianship.objects.get() == dot
    assert set(User.objects.values_list("email", flat=True)) == {
        "foreign-lead@example.org",
        "foreign-family@example.org",
    }
    assert ("people.school", school) in [
        (each.model, each.pk) for each in erasure_list.read(erasure_list.path())
    ]


@pytest.mark.django_db(transaction=True)
def test_a_copy_in_the_making_for_an_erased_child_leaves_no_file(village):
    copy = DataExport.objects.create(child=village.aisha, asked_by=village.people["lead"])
    pk = copy.pk
    erase_child(village.aisha)
    make_copy(pk)
    assert files_in_store() == []


def test_erasing_is_whole_or_not_at_all(village, monkeypatch):
    monkeypatch.setattr(of_people, "drop_messages", lambda *_args: 1 / 0)
    life = plant(village, {})
    with pytest.raises(ZeroDivisionError), transaction.atomic():
        erase_child(village.aisha)
    assert Child.objects.filter(pk=village.aisha.pk).exists()
    assert Submission.objects.filter(pk=life.submission.pk).exists()
