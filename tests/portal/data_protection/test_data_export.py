"""A copy holds all there is, opens without a network, names no other child, and is gone in time."""

import datetime as dt
import errno
import hashlib
import io
import json
import re
import zipfile
from collections import Counter
from unittest import mock

import pytest
from django.core.management import CommandError, call_command
from django.utils import timezone
from freezegun import freeze_time

from assessment.models import Judgement, Look, PastLook, Tag
from evidence.models import Answer, Piece, Rendition, Submission
from evidence.storage import store
from evidence.submissions import other_children
from portal.data_protection import jobs
from portal.data_protection.data_export import files
from portal.data_protection.data_export.redaction import SOMEBODY, Redactor
from portal.data_protection.data_export.requesting import ask_for_copy
from portal.data_protection.data_export.writing import write_copy
from portal.data_protection.hooks import Scope
from portal.data_protection.jobs import make_copy, sweep_copies
from portal.data_protection.models import DataExport
from portal.people.models import Consent, Event, Guardianship, Purpose
from tasks.models import TaskPrompt
from tests.evidence.builders import files_in_store, make_ready_piece, make_submission
from tests.portal.data_protection.builders import plant

pytestmark = pytest.mark.django_db


def opened(scope: Scope, tmp_path) -> zipfile.ZipFile:
    """Write the copy of *scope* and open it."""
    target = tmp_path / "copy.zip"
    write_copy(scope, target)
    return zipfile.ZipFile(target)


def data_of(zipped: zipfile.ZipFile) -> dict:
    """Return the rows in a copy."""
    return json.loads(zipped.read("data.json"))


def agree(village, role="other family", purpose=Purpose.FAMILIES, given=True):
    """Have Ben's home say yes."""
    own = Guardianship.objects.get(adult=village.people[role], child=village.ben)
    Consent.answer(own, purpose, given=given, wording=1)


def test_the_whole_copy_counts_as_many_rows_and_files_as_the_database(village, tmp_path):
    life = plant(village, {})
    agree(village)
    zipped = opened(Scope(village.aisha), tmp_path)
    rows = {name: len(each) for name, each in data_of(zipped).items()}
    own = {"submission__child": village.aisha}
    assert rows["work"] == Submission.objects.filter(child=village.aisha).count() == 2
    assert rows["pieces"] == Piece.objects.filter(**own).count() == 5
    questions = [each["question"] for each in data_of(zipped)["pieces"]]
    assert [each for each in questions if each] == [TaskPrompt.objects.first().sentence]
    assert rows["answers"] == Answer.objects.filter(**own).count() == 11
    assert rows["replies"] == Look.objects.filter(**own).count()
    assert rows["earlier replies"] == PastLook.objects.count()
    assert rows["tags"] == Tag.objects.filter(child=village.aisha).count()
    assert rows["judgements"] == Judgement.objects.filter(child=village.aisha).count()
    assert rows["consents"] == Consent.objects.filter(child=village.aisha).count()
    assert rows["views"] == Event.objects.filter(object_id=life.piece.pk).count()
    manifest = json.loads(zipped.read("manifest.json"))
    assert manifest["rows"] == rows
    stored = Rendition.objects.filter(piece__submission__child=village.aisha)
    assert len(manifest["files"]) == stored.count() + 1  # and the spoken reply


def test_every_file_in_a_copy_is_byte_for_byte_what_is_stored(village, tmp_path):
    plant(village, {})
    agree(village)
    zipped = opened(Scope(village.aisha), tmp_path)
    told = json.loads(zipped.read("manifest.json"))["files"]
    for file in told:
        assert hashlib.sha256(zipped.read(file["path"])).hexdigest() == file["sha256"]
    sums = Counter(file["sha256"] for file in told)
    own = Rendition.objects.filter(piece__submission__child=village.aisha)
    assert not Counter(own.values_list("sha256", flat=True)) - sums
    in_rows = [path for rows in data_of(zipped).values() for row in rows
               for path in row.get("files", [])]  # fmt: skip
    assert sorted(in_rows) == sorted(file["path"] for file in told)


def test_every_word_that_was_kept_of_the_child_is_in_the_whole_copy(village, tmp_path):
    life = plant(village, {})
    agree(village)
    zipped = opened(Scope(village.aisha), tmp_path)
    content = b"".join(zipped.read(name) for name in zipped.namelist()).decode("latin1")
    not_the_childs = re.compile(
        r"form_key|user\.|address_notice|address_key|invitation\.email|roster_run|office_key|device|session|"
        r"sign_in|upload\.|original|push_place|work folder|partial|copy file|past_look.tags|"
        r"sample.first"
    )
    missing = {place for place, word in life.words.items() if word not in content}
    assert {place for place in missing if not not_the_childs.search(place)} == set()


def test_the_copy_opens_offline(village, tmp_path):
    plant(village, {})
    zipped = opened(Scope(village.aisha), tmp_path)
    page = zipped.read("index.html").decode()
    links = set(re.findall(r'(?:href|src)="([^"]*)"', page))
    assert not [link for link in links if "//" in link or link.startswith("/")]
    inside = {link for link in links if not link.startswith("#")}
    assert inside <= set(zipped.namelist())
    assert "<script" not in page


def test_other_children_s_names_are_taken_out_of_what_is_handed_out(village, tmp_path):
    make_submission(village, note="Ben helped. ben's sister Cal watched. Aisha counted.")
    zipped = opened(Scope(village.aisha), tmp_path)
    (row,) = data_of(zipped)["work"]
    assert row["note"] == (
        f"{SOMEBODY} helped. {SOMEBODY}'s sister {SOMEBODY} watched. Aisha counted."
    )
    everything = b"".join(zipped.read(name) for name in zipped.namelist())
    assert b"Ben" not in everything


def test_a_home_keeps_the_names_of_its_own_children(village, tmp_path):
    make_submission(village, note="Aisha and Cal, not Ben")
    zipped = opened(Scope(village.aisha, village.first_home), tmp_path)
    assert data_of(zipped)["work"][0]["note"] == f"Aisha and Cal, not {SOMEBODY}"


def test_what_the_school_moves_for_itself_keeps_all_names(village, tmp_path):
    make_submission(village, note="with Ben")
    zipped = opened(Scope(village.aisha, to_be_handed_out=False), tmp_path)
    assert data_of(zipped)["work"][0]["note"] == "with Ben"


@pytest.mark.parametrize(
    ("names", "before", "after"),
    [
        ([], "Ben and Will", "Ben and Will"),
        (["Will"], "I will, said Will", f"I will, said {SOMEBODY}"),
        (["Ann", "Anna"], "Annabel, Anna, Ann", f"Annabel, {SOMEBODY}, {SOMEBODY}"),
        (["Zoë"], "ZOË's", f"{SOMEBODY}'s"),
        (["A+B"], "A+B", "A+B"),
        (["Mary Lou"], "mary lou sang", f"{SOMEBODY} sang"),
    ],
)
def test_names_are_found_however_they_are_written(names, before, after):
    assert Redactor(names).text(before) == (after if names != ["A+B"] else SOMEBODY)


def test_a_home_gets_its_own_things_and_nothing_of_the_other_home(village, tmp_path):
    make_submission(village, note="from the first home")
    make_submission(village, home=village.second_home, note="from the second home")
    plant_words = {}
    for home, other in ((village.first_home, "second"), (village.second_home, "first")):
        target = tmp_path / str(home.pk)
        target.mkdir()
        zipped = opened(Scope(village.aisha, home), target)
        plant_words[home.pk] = zipped.read("data.json").decode()
        assert f"from the {other} home" not in plant_words[home.pk]
        assert len(data_of(zipped)["work"]) == 1
        assert {row["home"] for row in data_of(zipped)["homes"]} == {
            "home 1" if home == village.first_home else "home 2"
        }


def test_a_home_s_copy_has_no_tags_judgements_or_notes_of_staff(village, tmp_path):
    life = plant(village, {})
    zipped = opened(Scope(village.aisha, village.first_home), tmp_path)
    text = zipped.read("data.json").decode()
    for place in ("judgement.note", "contact_note.words", "lead_mark.words", "past_look.reply"):
        assert life.words[place] not in text
    assert life.words["look.reply"] in text
    assert "tags" not in data_of(zipped)


def test_no_adult_s_address_or_name_is_in_any_copy(village, tmp_path):
    life = plant(village, {})
    for number, home in enumerate((None, village.first_home, village.second_home)):
        target = tmp_path / str(number)
        target.mkdir()
        zipped = opened(Scope(village.aisha, home), target)
        content = b"".join(zipped.read(name) for name in zipped.namelist()).decode("latin1")
        for place in ("user.name", "user.email", "invitation.email", "home.address_key"):
            assert life.words[place] not in content
        assert "@" not in zipped.read("data.json").decode()


def test_a_piece_that_shows_another_child_stays_out_until_its_homes_agree(village, tmp_path):
    submission = make_submission(village)
    piece = make_ready_piece(submission)
    other_children.name_children(
        piece, [village.ben], strangers=False, by=village.people["teacher"]
    )
    for number, (agreed, count) in enumerate(((None, 0), (True, 2), (False, 0))):
        if agreed is not None:
            agree(village, given=agreed)
        target = tmp_path / str(number)
        target.mkdir()
        zipped = opened(Scope(village.aisha), target)
        (row,) = data_of(zipped)["pieces"]
        assert len(row["files"]) == count
        assert bool(row["not_in_the_copy"]) is not bool(count)
        assert len([name for name in zipped.namelist() if name.startswith("pieces/")]) == count


def test_the_home_that_sent_it_gets_its_own_picture_of_two_children_back(village, tmp_path):
    piece = make_ready_piece(make_submission(village))
    other_children.mark([piece], village.people["family"])
    zipped = opened(Scope(village.aisha, village.first_home), tmp_path)
    assert len(data_of(zipped)["pieces"][0]["files"]) == 2


def test_the_job_makes_a_copy_once_and_says_how_far_it_is(village):
    piece = make_ready_piece(make_submission(village))
    copy = DataExport.objects.create(child=village.aisha, asked_by=village.people["lead"])
    make_copy(copy.pk)
    make_copy(copy.pk)
    copy.refresh_from_db()
    assert (copy.done, copy.most) == (piece.renditions.count(), 2)
    path = files.path_of(copy.file)
    assert path.stat().st_size == copy.size
    assert path.stat().st_mode & 0o777 == 0o600
    assert [each for each in files_in_store() if each.parent == path.parent] == [path]


def test_a_copy_that_was_asked_for_waits_with_the_work_of_the_nights_and_before_no_mail(
    village, django_capture_on_commit_callbacks
):
    committed = django_capture_on_commit_callbacks(execute=True)
    with mock.patch.object(make_copy, "apply_async") as handed_over, committed:
        copy = ask_for_copy(village.aisha, None, village.people["lead"])
    handed_over.assert_called_once_with((copy.pk,), queue="nights", retry=False)


def test_a_copy_whose_job_was_lost_is_made_by_the_sweep(village):
    copy = DataExport.objects.create(child=village.aisha)
    sweep_copies()
    copy.refresh_from_db()
    assert copy.ready_at


def test_a_file_that_is_not_what_it_was_stops_the_copy_and_leaves_nothing(village, caplog):
    piece = make_ready_piece(make_submission(village))
    store.path_of(piece.renditions.first().name).write_bytes(b"something else")
    copy = DataExport.objects.create(child=village.aisha)
    with freeze_time(timezone.now()) as clock:
        for _attempt in range(4):
            make_copy(copy.pk)
            clock.tick(dt.timedelta(minutes=1))
    copy.refresh_from_db()
    assert copy.has_failed
    assert not list(files.folder().iterdir())
    assert "Aisha" not in caplog.text


def test_a_disk_that_was_full_for_an_hour_costs_a_copy_nothing(village, monkeypatch):
    copy = DataExport.objects.create(child=village.aisha)

    def full(*_args):
        raise OSError(errno.ENOSPC, "no room")

    with freeze_time(timezone.now()) as clock:
        monkeypatch.setattr(jobs, "write_copy", full)
        for _minute in range(60):
            sweep_copies()
            clock.tick(dt.timedelta(minutes=1, seconds=1))
        copy.refresh_from_db()
        assert not copy.has_failed
        monkeypatch.undo()
        sweep_copies()
    copy.refresh_from_db()
    assert copy.ready_at


def test_files_of_copies_that_nobody_knows_are_swept(village):
    path = files.folder() / files.new_name()
    path.write_bytes(b"left")
    assert files.clear_orphans(set(), 60.0) == 0
    assert files.clear_orphans(set(), -1.0) == 1
    assert not path.exists()


def test_a_copy_is_out_of_date_after_a_week(village):
    copy = DataExport.objects.create(child=village.aisha, asked_by=village.people["lead"])
    seen = DataExport.objects.visible_to(village.people["lead"]).in_date()
    assert seen.get() == copy
    DataExport.objects.update(asked_at=timezone.now() - dt.timedelta(days=7, minutes=1))
    assert not seen.all()
    assert not DataExport.objects.to_do()


@pytest.mark.parametrize(
    ("role", "of_home", "whole"),
    [
        *(("family", True, False), ("second home", False, False), ("other family", False, False)),
        *(("teacher", False, False), ("lead", False, True), ("foreign lead", False, False)),
    ],
)
def test_a_copy_is_there_for_who_may_have_it(village, role, of_home, whole):
    own = DataExport.objects.create(
        child=village.aisha, home=village.first_home, asked_by=village.people["family"]
    )
    of_all = DataExport.objects.create(child=village.aisha, asked_by=village.people["lead"])
    seen = set(DataExport.objects.visible_to(village.people[role]))
    assert seen == {copy for copy, sees in ((own, of_home), (of_all, whole)) if sees}


def test_an_adult_who_is_at_home_no_more_does_not_get_the_copy_made_before(village):
    copy = DataExport.objects.create(
        child=village.aisha, home=village.first_home, asked_by=village.people["family"]
    )
    Guardianship.objects.filter(child=village.aisha).update(ended_at=timezone.now())
    assert copy not in DataExport.objects.visible_to(village.people["family"])


def test_the_command_writes_the_copy_of_a_child_and_never_over_a_file(village, tmp_path):
    make_submission(village, note="five")
    target = tmp_path / "aisha.zip"
    said = io.StringIO()
    call_command("export_child", str(village.aisha.pk), str(target), stdout=said)
    assert data_of(zipfile.ZipFile(target))["work"][0]["note"] == "five"
    assert "Aisha" not in said.getvalue()
    with pytest.raises(CommandError):
        call_command("export_child", str(village.aisha.pk), str(target))
    with pytest.raises(CommandError):
        call_command("export_child", "999999", str(tmp_path / "none.zip"))


def test_the_command_writes_a_whole_school_with_every_child_in_a_folder(village, tmp_path):
    make_submission(village, note="with Ben")
    target = tmp_path / "school.zip"
    call_command("export_school", str(village.school.pk), str(target), stdout=io.StringIO())
    zipped = zipfile.ZipFile(target)
    folders = {name.split("/")[1] for name in zipped.namelist() if name.startswith("children/")}
    assert folders == {str(child.pk) for child in (village.aisha, village.ben, village.cal)}
    work = json.loads(zipped.read(f"children/{village.aisha.pk}/data.json"))["work"]
    assert work[0]["note"] == "with Ben"
    school = json.loads(zipped.read("school.json"))
    assert [each["name"] for each in school["classes"]] == ["Robins", "Wrens"]
    assert {each["name"] for each in school["staff"]} >= {"Teacher", "Lead"}
    assert school["children"] == [
        {"number": child.pk, "first_name": child.first_name, "initial": child.initial,
         "class": child.school_class.name}
        for child in (village.aisha, village.ben, village.cal)
    ]  # fmt: skip


@pytest.mark.django_db(transaction=True)
def test_the_command_closes_a_school_only_when_its_name_is_typed(village):
    with pytest.raises(CommandError):
        call_command("close_school", str(village.school.pk), "--name", "Hill Top")
    said = io.StringIO()
    call_command("close_school", str(village.school.pk), "--name", "Harbour Lane", stdout=said)
    assert "3 children" in said.getvalue()
