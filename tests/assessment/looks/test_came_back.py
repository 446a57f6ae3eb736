"""What came back from the teacher stands first on the card, until its home has opened it."""

import datetime as dt

import pytest
from django.db import OperationalError, connection
from django.test import Client
from django.urls import reverse
from freezegun import freeze_time

from assessment.looks.looking import LookData, save_look, undo_look
from assessment.looks.voice_cleaning import finish
from assessment.models import VoiceReply
from evidence.models import Submission
from portal.people.models import Child, Guardianship, Home
from tests.assessment.builders import add_photo, looked, send, set_day
from tests.tasks.builders import queries_of
from tests.village import MONDAY, Village, make_child

SEE_IT = "See it"
NEW = "a new reply"
WORDS = "I can see two equal parts"


@pytest.fixture(autouse=True)
def tuesday():
    """Let it be the day after the work was set."""
    with freeze_time("2026-11-24 17:00"):
        yield


@pytest.fixture
def work(village: Village) -> Submission:
    """Return what Aisha's first home sent on Monday, answered by the teacher."""
    sent = send(village.aisha, village.first_home, set_day(village.robins))
    looked(sent, village.people["teacher"], reply=WORDS, next_step="Look for halves at breakfast")
    return sent


def card_of(client: Client, child: Child) -> str:
    """Return the page of today's card of *child*."""
    address = reverse("tasks:card", args=[child.pk, MONDAY + dt.timedelta(days=1)])
    return client.get(address).content.decode()


def opened(work: Submission) -> bool:
    """Whether the reply to *work* counts as opened."""
    return not Submission.objects.get(pk=work.pk).is_unopened


def test_the_card_begins_with_the_new_reply_until_it_is_opened(village, signed_in, work):
    family = signed_in("family")
    address = reverse("assessment:leaf", args=[work.token])
    card = card_of(family, village.aisha)
    assert card.index(WORDS) < card.index(SEE_IT) < card.index("Nothing is set for today")
    assert "Look for halves at breakfast" in card
    assert address in card
    assert NEW in card

    family.get(address)

    card = card_of(family, village.aisha)
    assert WORDS in card
    assert SEE_IT not in card
    assert "Look for halves" not in card
    assert NEW not in card
    assert address in card


def test_opening_counts_for_one_home_alone_and_never_for_staff(village, signed_in, work):
    theirs = send(village.aisha, village.second_home, work.day_plan)
    looked(theirs, village.people["teacher"], reply="Yours, at the other home")
    signed_in("teacher").get(reverse("assessment:look", args=[theirs.token]))
    signed_in("teacher").get(reverse("evidence:submission", args=[theirs.token]))
    signed_in("family").get(reverse("evidence:submission", args=[theirs.token]))
    signed_in("family").get(reverse("evidence:submission", args=[work.token]))

    assert opened(work)
    assert not opened(theirs)
    assert "Yours, at the other home" not in card_of(signed_in("family"), village.aisha)
    card = card_of(signed_in("second home"), village.aisha)
    assert WORDS not in card
    assert SEE_IT in card


def test_the_reply_is_read_even_where_the_mark_cannot_be_kept(village, signed_in, work):
    def full(execute, sql, params, many, context):
        if 'opened_at" =' in sql:
            raise OperationalError("database or disk is full")
        return execute(sql, params, many, context)

    with connection.execute_wrapper(full):
        page = signed_in("family").get(reverse("evidence:submission", args=[work.token]))

    assert WORDS in page.content.decode()
    assert not opened(work)


def test_words_that_are_changed_are_new_again_and_tags_alone_are_not(village, signed_in, work):
    family, teacher = signed_in("family"), village.people["teacher"]
    family.get(reverse("evidence:submission", args=[work.token]))
    same = LookData(reply=WORDS, next_step="Look for halves at breakfast")
    look = save_look(work, teacher, same, seen_version=1)
    assert opened(work)

    with freeze_time("2026-11-24 17:05"):
        save_look(work, teacher, LookData(reply="Two equal parts, both times"), look.version)
    with freeze_time("2026-11-24 17:06"):
        assert not opened(work)
        assert "Two equal parts, both times" in card_of(family, village.aisha)


def test_a_reply_that_was_taken_back_is_not_on_the_card(village, signed_in, work):
    undo_look(work, seen_version=1)

    assert WORDS not in card_of(signed_in("family"), village.aisha)


def test_a_voice_that_comes_after_the_words_is_new(village, work, monkeypatch):
    Submission.objects.get(pk=work.pk).note_opened()
    reply = VoiceReply.objects.create(submission=work, name="voice", sha256="0" * 64, size=1)
    claimed = VoiceReply.objects.claim(reply.pk)
    monkeypatch.setattr("evidence.storage.store.adopt", lambda path, sha256: "clean voice")

    finish(claimed, Clean())

    with freeze_time("2026-11-24 17:01"):
        assert not opened(work)


class Clean:
    """A clean sound, as the decoder gives it."""

    path, sha256, media_type, bytes, seconds = "", "0" * 64, "audio/mp4", 1, 2.0

    def output(self, role: str) -> "Clean":
        return self


def test_what_was_sent_stands_small_beside_the_reply(village, signed_in, work):
    family = signed_in("family")
    piece = add_photo(work)
    assert reverse("evidence:piece", args=[piece.token, "thumb"]) in card_of(family, village.aisha)

    typed = send(village.cal, village.first_home, set_day(village.wrens), answers="right")
    looked(typed, village.people["other teacher"], reply="All four, Cal")
    card = card_of(family, village.cal)

    assert card.index("<svg", card.index("work-picture")) < card.index("All four, Cal")


def test_of_two_replies_the_newer_comes_first_and_the_other_after_it(village, signed_in, work):
    later = send(village.aisha, village.first_home, work.day_plan)
    with freeze_time("2026-11-24 17:30"):
        looked(later, village.people["teacher"], reply="And this one as well")
        family = signed_in("family")
        assert "And this one as well" in card_of(family, village.aisha)

        family.get(reverse("evidence:submission", args=[later.token]))

        card = card_of(family, village.aisha)
    assert WORDS in card
    assert SEE_IT in card


def test_the_card_asks_the_same_of_the_database_for_many_children_and_replies(
    village: Village, signed_in, work
):
    family = signed_in("family")
    address = reverse("tasks:card", args=[village.aisha.pk, MONDAY])
    before = queries_of(family, address)
    home = Home.objects.get(pk=village.first_home.pk)
    for number in range(3):
        child = make_child(village.robins, f"Child{number}", "Z")
        Guardianship.objects.create(adult=village.people["family"], child=child, home=home)
        looked(send(child, home, work.day_plan, answers="right"), village.people["teacher"])
        again = send(village.aisha, home, work.day_plan, answers="right")
        looked(again, village.people["teacher"])

    assert queries_of(family, address) == before
