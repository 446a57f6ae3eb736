"""Asking a family for one more piece: who sees it, and until when."""

import datetime as dt

import pytest
from django.utils import timezone

from assessment.looks.looking import LookData, save_look, undo_look
from assessment.looks.requests_for_more import asked_of
from assessment.models import Look
from evidence.uploads.withdrawal import withdraw
from tests.assessment.builders import a_moment_ago, send, set_day
from tests.assessment.looks.test_look_page import form


@pytest.fixture
def work(village):
    return send(village.aisha, village.first_home, set_day(village.robins))


def ask(village, work, version=0):
    """Ask the home of *work* for one more, a moment ago."""
    saying = LookData("Lovely", asks_more=True)
    with a_moment_ago():
        return save_look(work, village.people["teacher"], saying, version)


def send_later(village, home, work):
    """Send for Aisha after she was asked."""
    return send(village.aisha, home, work.day_plan, sent_at=timezone.now() + dt.timedelta(hours=1))


def is_asked(village, role="family"):
    """Whether the home of *role* is asked for one more."""
    return asked_of(village.people[role]).exists()


def test_the_family_is_asked_until_it_sends_again(village, work):
    ask(village, work)
    assert is_asked(village)
    later = send_later(village, village.first_home, work)
    assert not is_asked(village)
    withdraw(later)
    assert is_asked(village)


def test_what_the_other_home_sends_answers_nothing(village, work):
    ask(village, work)
    send_later(village, village.second_home, work)
    assert is_asked(village)
    assert not is_asked(village, "second home")


def test_a_look_that_is_taken_back_asks_nothing(village, work):
    look = ask(village, work)
    undo_look(work, look.version)
    assert not is_asked(village)


def test_a_look_saved_once_more_does_not_ask_anew(village, work):
    first = ask(village, work).asked_more_at
    send_later(village, village.first_home, work)
    ask(village, work, version=1)
    assert Look.objects.get().asked_more_at == first
    assert not is_asked(village)


def test_undoing_brings_back_whether_more_was_asked(village, work):
    ask(village, work)
    with a_moment_ago():
        save_look(work, village.people["teacher"], LookData("Enough"), 1)
    assert not is_asked(village)
    undo_look(work, 2)
    assert is_asked(village)


def test_the_card_the_list_and_the_piece_say_so_to_this_home_alone(village, signed_in, work):
    ask(village, work)
    card = f"/children/{village.aisha.pk}/card/{work.day_plan.date}/"
    words = "One more, please"
    family = signed_in("family")
    for page in (card, "/sent/", f"/sent/{work.token}/"):
        assert words in family.get(page).content.decode(), page
    second = signed_in("second home")
    for page in (card, "/sent/"):
        assert words not in second.get(page).content.decode(), page


def test_one_tick_on_the_look_page_asks(village, signed_in, work):
    with a_moment_ago():
        signed_in("teacher").post(f"/look/{work.token}/", form(reply="More!", asks_more="on"))
    assert is_asked(village)
    html = signed_in("teacher").get(f"/look/{work.token}/").content.decode()
    assert 'name="asks_more" id="id_asks_more" checked' in html
