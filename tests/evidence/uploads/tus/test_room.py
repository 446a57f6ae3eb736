"""How much one home may have on its way, and that it takes nothing from others."""

import datetime as dt

import pytest
from django.utils import timezone

from evidence.models import Upload
from evidence.uploads import limits
from evidence.uploads.tus import upload_slots
from evidence.uploads.tus.protocol import RequestError
from tests.evidence.builders import jpeg
from tests.evidence.uploads.tus.tus import START, ask, begin, metadata, sent_whole, upload_at

pytestmark = [pytest.mark.django_db, pytest.mark.servers]


def ask_for(client, child, length: int = 900):
    told = metadata(child)
    return ask(client, "POST", START, Upload_Length=str(length), Upload_Metadata=told)


def test_one_upload_more_than_a_home_may_have_on_its_way_is_refused_in_words(
    village, family, child, signed_in
):
    for _ in range(limits.HOME_OPEN):
        begin(family, child, 900)

    answer = ask_for(family, child)

    assert answer.status_code == 429
    assert "on its way already" in answer.content.decode()
    assert ask_for(signed_in("other family"), village.ben).status_code == 201
    assert ask_for(signed_in("second home"), child).status_code == 201


def test_room_comes_back_when_an_upload_ends(family, child):
    addresses = [begin(family, child, 900) for _ in range(limits.HOME_OPEN)]
    ask(family, "DELETE", addresses[0])

    assert ask_for(family, child).status_code == 201


def test_uploads_that_were_left_lying_take_no_room(family, child):
    for _ in range(limits.HOME_OPEN):
        begin(family, child, 900)
    Upload.objects.update(expires_at=timezone.now() - dt.timedelta(seconds=1))

    assert ask_for(family, child).status_code == 201


def test_a_home_has_a_share_of_each_day_in_bytes(family, child):
    for _ in range(5):
        begin(family, child, 600_000_000)

    answer = ask_for(family, child, 100_000)

    assert answer.status_code == 413
    assert "a lot for one day" in answer.content.decode()


def test_a_home_has_a_share_of_each_day_in_files(family, child, monkeypatch):
    monkeypatch.setattr(limits, "HOME_PIECES", 3)
    sent_whole(family, child, jpeg("red"))
    begin(family, child, 900)
    begin(family, child, 900)

    assert ask_for(family, child).status_code == 413


def test_a_home_that_begins_and_cancels_without_end_is_stopped(family, child, monkeypatch):
    monkeypatch.setattr(limits, "HOME_STARTS", 3)
    for _ in range(3):
        ask(family, "DELETE", begin(family, child, 900))

    answer = ask_for(family, child)

    assert answer.status_code == 429
    assert "in one hour" in answer.content.decode()


def test_the_room_of_a_submission_holds_for_uploads_as_well(family, child):
    for number in range(limits.MAX_PIECES):
        sent_whole(family, child, jpeg(size=(number + 1, 8)))

    address = begin(family, child, len(jpeg("red")))
    answer = ask(family, "PATCH", address, jpeg("red"), Upload_Offset="0")

    assert answer.status_code == 413
    assert "is the most in one go" in answer.content.decode()
    assert upload_at(address).state == Upload.State.REFUSED


def test_one_home_never_takes_all_the_desks_of_a_process():
    with (
        upload_slots.desk("one home"),
        upload_slots.desk("one home"),
        upload_slots.desk("one home"),
    ):
        with upload_slots.desk("one home"), pytest.raises(RequestError) as refused:
            upload_slots.desk("one home").__enter__()
        assert refused.value.status == 503
        with upload_slots.desk("another home"):
            pass
    assert not upload_slots.taken
