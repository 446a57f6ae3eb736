"""The command cleans one file, says what it did, and tells failures apart by exit code."""

import json
import subprocess
import sys
from io import StringIO

import pytest
from django.core.management import CommandError, call_command

from tests.evidence.media import made
from tests.evidence.media.made import ROOT


def test_it_names_what_it_found_and_every_file_it_wrote(tmp_path):
    made.quarters(60, 40).save(tmp_path / "photo.png")
    printed = StringIO()

    call_command("clean_media", tmp_path / "photo.png", tmp_path / "out", stdout=printed)

    first, *files = printed.getvalue().splitlines()
    assert first == "photo from png (image/png), 60 x 40"
    assert [line.split(":")[0] for line in files] == ["display", "thumb"]
    assert str(tmp_path / "out" / "display.jpg") in files[0]


def test_it_gives_json_for_programs(tmp_path):
    note = made.voice(tmp_path / "note", "ogg", "libopus", seconds=0.3)
    printed = StringIO()

    call_command("clean_media", note, tmp_path / "out", format="json", stdout=printed)

    answer = json.loads(printed.getvalue())
    assert (answer["cleaned"], answer["kind"], answer["source_format"]) == (True, "voice", "ogg")
    assert answer["outputs"][0]["media_type"] == "audio/mp4"


def test_a_refusal_prints_its_reason_and_exits_with_3(tmp_path):
    (tmp_path / "page.jpg").write_text("<html>")
    printed = StringIO()

    with pytest.raises(SystemExit) as stopped:
        call_command("clean_media", tmp_path / "page.jpg", tmp_path / "out", stdout=printed)

    assert stopped.value.code == 3
    assert printed.getvalue().startswith("refused: unknown_kind\nWe cannot open this kind of file.")


def test_a_refusal_in_json_carries_the_words_for_the_family(tmp_path):
    (tmp_path / "empty.jpg").touch()
    printed = StringIO()

    with pytest.raises(SystemExit):
        call_command(
            "clean_media", tmp_path / "empty.jpg", tmp_path / "out", format="json", stdout=printed
        )

    answer = json.loads(printed.getvalue())
    assert (answer["cleaned"], answer["reason"]) == (False, "empty")
    assert answer["words"].startswith("This file is empty.")


def test_a_missing_file_or_a_file_for_a_folder_is_a_bad_argument(tmp_path):
    photo = tmp_path / "photo.png"
    made.quarters(60, 40).save(photo)

    for arguments in ((tmp_path / "missing", tmp_path), (photo, photo)):
        with pytest.raises(CommandError) as error:
            call_command("clean_media", *arguments)
        assert error.value.returncode == 2


def test_bad_arguments_exit_with_2():
    run = subprocess.run(
        [sys.executable, "manage.py", "clean_media", "only-one"],
        cwd=ROOT,
        capture_output=True,
        timeout=60,
    )

    assert run.returncode == 2
