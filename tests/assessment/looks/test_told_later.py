"""Nothing of a look reaches a home in the first ten seconds, and nothing of one undone in them."""

import datetime as dt
import json
import re
import zipfile

import pytest
from django.db import transaction
from django.test import Client
from freezegun import freeze_time

from assessment.looks.looking import LookData, save_look, take_back_look, undo_look
from assessment.looks.requests_for_more import asked_of
from assessment.models import Look, Tag, VoiceReply
from evidence.models import Submission
from evidence.submissions.answered import SEEN_BY_FAMILIES_AFTER
from portal.data_protection.data_export.writing import write_copy
from portal.data_protection.hooks import Scope
from tests.access.policy import policy
from tests.access.scene import ROLES, Scene
from tests.assessment.builders import goal, looked, send, set_day

pytestmark = pytest.mark.django_db
EVENING = "2026-11-23 17:00"
SHORTLY, LATER = dt.timedelta(seconds=9), SEEN_BY_FAMILIES_AFTER
REPLY, STEP, AGAIN = "Quokkas counted", "Wombats tomorrow", "Numbats instead"
# What is drawn by chance each time that a page is asked for.
BY_CHANCE = re.compile(r'(csrf-token" content|(csrfmiddlewaretoken|form_key)" value)="[^"]+"')
TELLING = {
    *("tasks:card", "evidence:sent", "evidence:submission", "assessment:leaf"),
    *("assessment:week", "assessment:child-week"),
}


@pytest.fixture
def clock():
    """Let it be Monday evening, until the test moves the clock on."""
    with freeze_time(EVENING) as frozen:
        yield frozen


def pages(scene: Scene) -> dict[str, str]:
    """Return every page that Aisha's first home can open, by its name; none changes a row."""
    family = ROLES.index("family")
    client, found = Client(), {}
    client.force_login(scene.village.people["family"])
    for (name, method), codes in policy().items():
        if method != "GET" or codes[family] != 200:
            continue
        with transaction.atomic():
            answer = client.get(scene.address(name))
            body = b"".join(answer) if answer.streaming else answer.content
            transaction.set_rollback(True)
        found[name] = BY_CHANCE.sub("", body.decode(errors="replace"))
    return found


def copied(scene: Scene, tmp_path) -> str:
    """Return the copy of all that the portal has for Aisha's first home."""
    target = tmp_path / f"{len(list(tmp_path.iterdir()))}.zip"
    write_copy(Scope(scene.village.aisha, scene.village.first_home), target)
    zipped = zipfile.ZipFile(target)
    rows = json.loads(zipped.read("data.json"))
    return json.dumps([rows, sorted(name for name in zipped.namelist() if "replies" in name)])


def changed(now: dict[str, str], before: dict[str, str]) -> list[str]:
    """Name the pages that are not as they were."""
    return [name for name, page in now.items() if page != before[name]]


def work_of(scene: Scene) -> Submission:
    """Return what Aisha's first home sent."""
    return Submission.objects.get(token=scene.arguments["token"])


def test_every_page_of_a_home_is_as_before_for_ten_seconds_and_then_says_it(clock, tmp_path):
    scene = Scene.build()
    before = pages(scene)
    saying = LookData(REPLY, STEP, {goal().pk: Tag.How.INDEPENDENTLY}, asks_more=True)
    save_look(work_of(scene), scene.village.people["teacher"], saying, seen_version=0)

    clock.tick(SHORTLY)
    assert changed(pages(scene), before) == []
    copy = copied(scene, tmp_path)
    assert REPLY not in copy
    assert '"looked_at": ""' in copy

    clock.tick(1)
    now = pages(scene)
    assert {name for name, page in now.items() if REPLY in page} >= TELLING & set(now)
    assert STEP in now["evidence:submission"]
    assert REPLY in copied(scene, tmp_path)


def test_what_is_undone_in_time_leaves_no_trace_on_any_page(clock):
    scene = Scene.build()
    before = pages(scene)
    work, teacher = work_of(scene), scene.village.people["teacher"]
    save_look(work, teacher, LookData(REPLY, STEP, asks_more=True), seen_version=0)
    clock.tick(SHORTLY)
    undo_look(work, seen_version=1)

    assert changed(pages(scene), before) == []
    clock.tick(LATER)
    assert changed(pages(scene), before) == []


def test_of_a_changed_look_the_home_reads_the_words_before_for_ten_seconds(clock):
    scene = Scene.build()
    work, teacher = work_of(scene), scene.village.people["teacher"]
    with_tag = {goal().pk: Tag.How.INDEPENDENTLY}
    save_look(work, teacher, LookData(REPLY, STEP, with_tag), seen_version=0)
    clock.tick(LATER)
    work_of(scene).note_opened()
    before = pages(scene)

    clock.tick(LATER)
    save_look(work, teacher, LookData("Wrong words"), seen_version=1)
    clock.tick(dt.timedelta(seconds=5))
    save_look(work, teacher, LookData(AGAIN, asks_more=True), seen_version=2)
    clock.tick(SHORTLY)
    assert changed(pages(scene), before) == []
    work_of(scene).note_opened()

    clock.tick(1)
    page = pages(scene)["evidence:submission"]
    assert AGAIN in page
    assert REPLY not in page
    assert work_of(scene).is_unopened


def test_a_change_undone_in_time_leaves_the_reply_opened_and_as_it_was(clock):
    scene = Scene.build()
    work, teacher = work_of(scene), scene.village.people["teacher"]
    save_look(work, teacher, LookData(REPLY, STEP), seen_version=0)
    clock.tick(LATER)
    work_of(scene).note_opened()
    before = pages(scene)
    save_look(work, teacher, LookData(AGAIN), seen_version=1)
    clock.tick(SHORTLY)
    undo_look(work, seen_version=2)

    assert changed(pages(scene), before) == []
    clock.tick(LATER)
    assert changed(pages(scene), before) == []


def test_a_second_save_within_ten_seconds_starts_them_again(village, clock):
    work = send(village.aisha, village.first_home, set_day(village.robins))
    teacher = village.people["teacher"]
    save_look(work, teacher, LookData(REPLY), seen_version=0)
    clock.tick(SHORTLY)
    save_look(work, teacher, LookData(AGAIN), seen_version=1)
    clock.tick(SHORTLY)
    assert not Submission.objects.get().is_answered
    clock.tick(1)
    assert Submission.objects.get().is_answered
    assert Look.objects.get().for_family.reply == AGAIN


def test_what_is_undone_later_is_new_again_at_once(village, clock):
    work = send(village.aisha, village.first_home, set_day(village.robins))
    looked(work, village.people["teacher"], REPLY)
    save_look(work, village.people["teacher"], LookData(AGAIN), seen_version=1)
    clock.tick(LATER)
    Submission.objects.get().note_opened()
    assert not Submission.objects.get().is_unopened

    undo_look(work, seen_version=2)

    assert Submission.objects.get().is_unopened
    assert Look.objects.get().for_family.reply == REPLY


def test_a_look_taken_back_and_saved_anew_waits_as_the_first_did(village, clock):
    work = send(village.aisha, village.first_home, set_day(village.robins))
    looked(work, village.people["teacher"], REPLY)
    take_back_look(work, seen_version=1)
    clock.tick(LATER)
    save_look(work, village.people["teacher"], LookData(AGAIN, asks_more=True), seen_version=2)
    clock.tick(SHORTLY)
    assert not Submission.objects.get().is_answered
    assert not asked_of(village.people["family"]).exists()
    clock.tick(1)
    assert Submission.objects.get().is_unopened
    assert asked_of(village.people["family"]).exists()


def test_a_voice_spoken_to_what_was_answered_waits_ten_seconds_too(village, clock):
    work = send(village.aisha, village.first_home, set_day(village.robins))
    looked(work, village.people["teacher"])
    ready = {"state": "ready", "media_type": "audio/mp4", "sha256": "0", "size": 1}
    VoiceReply.objects.create(submission=work, name="v", **ready)
    heard = VoiceReply.objects.visible_to(village.people["family"])
    clock.tick(SHORTLY)
    assert not heard.exists()
    assert VoiceReply.objects.visible_to(village.people["teacher"]).exists()
    clock.tick(1)
    assert VoiceReply.objects.visible_to(village.people["family"]).exists()


def test_the_page_says_what_was_saved_and_that_the_home_reads_it_a_moment_later(
    village, signed_in, clock
):
    work = send(village.aisha, village.first_home, set_day(village.robins))
    teacher = signed_in("teacher")
    data = {"version": 0, "reply": REPLY, "next_step": STEP, f"goal-{goal().pk}": "not yet"}
    page = teacher.post(f"/look/{work.token}/", data, follow=True).content.decode()
    for words in (REPLY, STEP, "not yet", "ten seconds", f"/look/{work.token}/undo/?version=1"):
        assert words in page, words
    clock.tick(LATER)
    page = teacher.get(f"/look/{work.token}/").content.decode()
    assert "ten seconds" not in page
    assert "The family can read it." in page
