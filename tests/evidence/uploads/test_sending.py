"""Sending: what a family sends is kept, and what cannot be kept is told at once."""

import datetime as dt

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from evidence.models import Answer, Piece, Submission
from evidence.uploads import limits as allowance
from evidence.uploads.tus import upload_slots
from tasks.models import DayPlan, TaskPrompt
from tasks.numberwork import make_prompts
from tests.evidence.builders import (
    files_in_store,
    form,
    jpeg,
    make_plan,
    make_submission,
    send_address,
    sent,
    upload,
)
from tests.village import MONDAY

pytestmark = pytest.mark.django_db


def test_photos_answers_help_and_a_note_arrive_together(village, family):
    prompt = TaskPrompt.objects.first()

    submission = sent(
        family,
        village.aisha,
        upload(jpeg("red")),
        upload(jpeg("blue")),
        note="We used spoons.",
        help="a little",
        **{f"answer-{prompt.pk}": "4"},
    )

    assert (submission.child, submission.home) == (village.aisha, village.first_home)
    assert [piece.kind for piece in submission.pieces.all()] == ["photo", "photo"]
    assert (submission.note, submission.help) == ("We used spoons.", "a little")
    assert [(each.prompt, each.text) for each in submission.answers.all()] == [(prompt, "4")]
    assert len(files_in_store()) == 2


def test_what_a_file_is_shows_in_its_bytes_and_not_in_its_name(village, family):
    submission = sent(family, village.aisha, upload(b"%PDF-1.4\n" + b" " * 5000, "photo.jpg"))

    assert submission.pieces.get().kind == "page"


NO_WORK_OF_A_CHILD = {
    "html": b"<html><script>alert(1)</script>",
    "php": b"<?php system($_GET[0]);",
    "zip": b"PK\x03\x04" + b"0" * 99,
    "svg": b'<svg xmlns="http://www.w3.org/2000/svg"/>',
    "program": b"\x7fELF" + b"0" * 5000,
}


@pytest.mark.parametrize("content", NO_WORK_OF_A_CHILD.values(), ids=NO_WORK_OF_A_CHILD)
def test_a_file_of_another_kind_is_refused_whatever_it_is_called(village, family, content):
    response = family.post(send_address(village.aisha), form(upload(content, "cake.jpg")))

    assert response.status_code == 422
    assert "cake.jpg" in response.content.decode()
    assert "Send a photo, a video, a voice recording or a PDF" in response.content.decode()
    assert not Submission.objects.exists()
    assert files_in_store() == []


def test_a_bad_file_costs_neither_the_good_ones_nor_the_words(village, family):
    response = family.post(
        send_address(village.aisha),
        form(upload(jpeg("red")), upload(b"not a photo", "notes.txt"), note="Look at this."),
        follow=True,
    )

    submission = Submission.objects.get()
    assert submission.pieces.count() == 1
    assert submission.note == "Look at this."
    assert "Number 2 (“notes.txt”) was not sent." in response.content.decode()


def test_a_script_that_sends_the_form_leaves_the_words_on_refused_files_to_the_page(
    village, family
):
    response = family.post(
        send_address(village.aisha),
        form(upload(jpeg()), upload(b"not a photo", "notes.txt")),
        headers={"hx-request": "true"},
    )

    assert response.status_code == 200
    page = family.get(response.headers["HX-Redirect"]).content.decode()
    assert "Number 2 (“notes.txt”) was not sent." in page


def test_words_that_are_too_long_cost_no_photo(village, family):
    response = family.post(
        send_address(village.aisha), form(upload(jpeg()), note="x" * 1001, help="together")
    )

    assert response.status_code == 422
    assert "x" * 1001 in response.content.decode()
    assert Submission.objects.get().pieces.count() == 1
    assert Submission.objects.get().help == "together"


def test_the_form_that_was_put_right_adds_to_the_same_submission(village, family):
    photo = jpeg()
    family.post(send_address(village.aisha), form(upload(photo), note="x" * 1001))

    submission = sent(family, village.aisha, upload(photo), note="Short now.")

    assert Submission.objects.get() == submission
    assert (submission.pieces.count(), submission.note) == (1, "Short now.")


def test_a_form_sent_twice_makes_one_submission(village, family):
    first = sent(family, village.aisha, upload(jpeg()), note="Once.")
    second = sent(family, village.aisha, upload(jpeg()), note="Once.")

    assert first == second
    assert first.pieces.count() == 1
    assert len(files_in_store()) == 1


def test_an_empty_form_is_told_what_is_missing(village, family):
    response = family.post(send_address(village.aisha), form(help="together"))

    assert response.status_code == 422
    assert "Add a photo" in response.content.decode()
    assert not Submission.objects.exists()


def test_words_alone_can_be_sent(village, family):
    assert sent(family, village.aisha, note="No camera today.").pieces.count() == 0


def test_answers_to_questions_that_were_changed_meanwhile_are_given_back(village, family):
    gone = TaskPrompt.objects.last()
    address = f"answer-{gone.pk}"
    gone.delete()

    response = family.post(
        send_address(village.aisha), form(upload(jpeg()), **{address: "seven spoons"})
    )

    assert response.status_code == 422
    assert "seven spoons" in response.content.decode()
    assert Submission.objects.get().pieces.count() == 1
    assert not Answer.objects.exists()


def test_a_form_that_was_cut_off_on_the_way_saves_nothing(village, family):
    whole = form(upload(jpeg()), note="Half of this is missing.")
    del whole["whole"]

    response = family.post(send_address(village.aisha), whole)

    assert response.status_code == 422
    assert not Submission.objects.exists()
    assert files_in_store() == []


def test_a_body_that_ends_early_saves_nothing(village, family):
    boundary = "BoUnDaRy"
    body = (
        f'--{boundary}\r\nContent-Disposition: form-data; name="form_key"\r\n\r\n{"a" * 24}\r\n'
        f'--{boundary}\r\nContent-Disposition: form-data; name="pieces"; filename="a.jpg"\r\n'
        "Content-Type: image/jpeg\r\n\r\n"
    ).encode() + jpeg()

    family.generic(
        "POST",
        send_address(village.aisha),
        body,
        content_type=f"multipart/form-data; boundary={boundary}",
    )

    assert not Submission.objects.exists()
    assert files_in_store() == []


def test_more_files_than_one_form_may_hold_are_named_and_the_first_ones_kept(village, family):
    colours = ["#%06x" % (number * 1000) for number in range(allowance.MAX_PIECES + 2)]

    response = family.post(
        send_address(village.aisha), form(*(upload(jpeg(each)) for each in colours)), follow=True
    )

    assert Submission.objects.get().pieces.count() == allowance.MAX_PIECES
    assert f"Number {allowance.MAX_PIECES + 1}" in response.content.decode()
    assert len(files_in_store()) == allowance.MAX_PIECES


def test_a_submission_holds_no_more_than_it_may_however_often_it_is_added_to(
    village, family, monkeypatch
):
    monkeypatch.setattr("evidence.uploads.room_left.MAX_PIECES", 2)
    submission = sent(family, village.aisha, upload(jpeg("red")), upload(jpeg("blue")))

    response = family.post(
        reverse("evidence:send-more", args=[submission.token]), form(upload(jpeg("green")))
    )

    assert submission.pieces.count() == 2
    assert "Number 1" in family.get(response.url).content.decode()
    assert len(files_in_store()) == 2


def test_pieces_that_are_too_large_together_are_told_so(village, family, monkeypatch):
    monkeypatch.setattr("evidence.uploads.room_left.MAX_BYTES", len(jpeg("red")) + 10)

    response = family.post(
        send_address(village.aisha),
        form(upload(jpeg("red")), upload(jpeg("blue"))),
        follow=True,
    )

    assert Submission.objects.get().pieces.count() == 1
    assert "Send it on its own." in response.content.decode()


def test_one_homes_share_of_the_day_leaves_the_others_theirs(
    village, family, signed_in, monkeypatch
):
    monkeypatch.setattr("evidence.uploads.room_left.HOME_PIECES", 1)
    sent(family, village.aisha, upload(jpeg("red")))

    refused = family.post(
        send_address(village.aisha), form(upload(jpeg("blue")), form_key="b" * 24)
    )

    assert refused.status_code == 422
    assert "Send it tomorrow" in refused.content.decode()
    assert Submission.objects.count() == 1
    assert sent(signed_in("other family"), village.ben, upload(jpeg())).pieces.count() == 1


def test_a_file_one_byte_over_its_limit_is_refused_and_leaves_nothing(village, family, monkeypatch):
    photo = jpeg(size=(640, 480))
    limits = allowance.LIMITS.__class__(
        photo=allowance.LIMITS.photo.__class__(len(photo) - 1, 1, 1, 1)
    )
    monkeypatch.setattr("evidence.uploads.upload_handler.LIMITS", limits)

    response = family.post(send_address(village.aisha), form(upload(photo)))

    assert response.status_code == 422
    assert "too big" in response.content.decode()
    assert files_in_store() == []


def test_a_form_larger_than_anything_we_take_is_turned_away_unread(village, family):
    response = family.post(
        send_address(village.aisha),
        form(upload(jpeg())),
        headers={"content-length": str(allowance.MAX_FORM_BYTES + 1)},
    )

    assert response.status_code == 413
    assert not Submission.objects.exists()


@pytest.mark.parametrize(
    "name",
    ["../../x.jpg", "a%00.jpg", "x" * 300 + ".jpg", "\u202egpj.exe", "🍰.jpg", "con.jpg", "a\r\nb"],
)
def test_no_name_a_phone_gives_reaches_a_path(village, family, own_store, name):
    sent(family, village.aisha, upload(jpeg(), name))

    kept = Piece.objects.get().original
    assert files_in_store() == [own_store / kept]
    assert (own_store / kept).stat().st_mode & 0o777 == 0o600


def test_a_teacher_and_a_stranger_cannot_send_for_a_child(village, plan, signed_in):
    for role in ("teacher", "lead", "office", "other family", "foreign family"):
        client = signed_in(role)
        assert client.get(send_address(village.aisha)).status_code == 404, role
        response = client.post(send_address(village.aisha), form(upload(jpeg())))
        assert response.status_code == 404, role
    assert files_in_store() == []


def test_a_plan_that_has_not_gone_out_cannot_be_answered(village, plan, family):
    DayPlan.objects.update(goes_out_at=timezone.now() + dt.timedelta(hours=1))

    assert family.get(send_address(village.aisha)).status_code == 404


def test_a_form_of_another_site_is_refused_and_its_files_are_gone(village, plan):
    client = Client(enforce_csrf_checks=True)
    client.force_login(village.people["family"])

    response = client.post(send_address(village.aisha), form(upload(jpeg())))

    assert response.status_code == 403
    assert not Submission.objects.exists()
    assert files_in_store() == []


def test_the_page_works_without_scripts(village, family):
    page = family.get(send_address(village.aisha)).content.decode()

    assert 'enctype="multipart/form-data"' in page
    assert "multiple" in page
    assert 'accept="image/*,video/*,audio/*,application/pdf"' in page
    assert page.rindex('name="whole"') > page.rindex('name="note"')
    assert page.rindex('name="whole"') > page.rindex('name="answer-')


def test_the_table_of_what_can_be_sent_is_what_the_code_refuses_by(village, family):
    page = family.get(send_address(village.aisha)).content.decode()

    assert "40 MB, 50 million dots" in page
    assert "600 MB, 3 minutes" in page
    assert str(allowance.MAX_PIECES) in page


def test_a_child_in_a_group_is_asked_the_questions_of_the_group(village, plan, signed_in):
    task = plan.tasks.get()
    own = task.__class__.objects.create(
        day_plan=plan, part=task.part, group=village.bens_group, kind="halving", within=10,
        count=1, seed=1,
    )  # fmt: skip
    (prompt,) = make_prompts("halving", 10, 1, seed=1)
    TaskPrompt.of(own, 0, prompt).save()

    page = signed_in("other family").get(send_address(village.ben)).content.decode()

    assert prompt.sentence in page
    assert f"answer-{task.prompts.first().pk}" not in page


def test_a_question_about_a_picture_is_asked_with_its_picture(village, plan, family):
    task = plan.tasks.get()
    TaskPrompt.of(task, 7, make_prompts("halves-of-shapes", 10, 1, seed=1)[0]).save()

    page = family.get(send_address(village.aisha)).content.decode()

    asked = page.split('class="answer-picture"')[-1]
    assert asked.index("<svg") < asked.index('type="radio"')


def test_work_that_was_sent_before_is_offered_for_adding(village, plan, family):
    submission = make_submission(village)

    page = family.get(send_address(village.aisha)).content.decode()

    assert reverse("evidence:send-more", args=[submission.token]) in page


def test_the_sending_page_takes_the_same_queries_for_two_prompts_and_for_four(village, family):
    other_day = MONDAY + dt.timedelta(days=1)
    make_plan(village.robins, other_day, prompts=2)
    family.get(send_address(village.aisha))  # the first page of a session writes the session

    counts = []
    for day in (MONDAY, other_day):
        with CaptureQueriesContext(connection) as queries:
            assert family.get(send_address(village.aisha, day)).status_code == 200
        counts.append(len(queries))

    assert counts[0] == counts[1] <= 20


def test_when_too_many_send_at_once_one_is_told_and_nothing_is_read(village, family, monkeypatch):
    monkeypatch.setattr(upload_slots, "DESKS", 0)

    response = family.post(send_address(village.aisha), form(upload(jpeg())))

    assert response.status_code == 503
    assert "try again in a minute" in response.content.decode()
    assert files_in_store() == []
    monkeypatch.undo()
    assert family.post(send_address(village.aisha), form(upload(jpeg()))).status_code == 302
    assert not upload_slots.taken
