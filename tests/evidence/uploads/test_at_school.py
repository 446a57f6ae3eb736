"""What has gone is said to have gone: on the card, and in the list with the reply's first words."""

import datetime as dt

from django.urls import reverse
from freezegun import freeze_time

from tests.assessment.builders import add_photo, looked, send, set_day
from tests.tasks.builders import queries_of
from tests.village import MONDAY, Village

SENT = "/sent/"
WORDS = "I can see two equal parts on each of your plates, and each is five"


def card_of(village: Village) -> str:
    """Return the address of Aisha's card of Monday."""
    return reverse("tasks:card", args=[village.aisha.pk, MONDAY])


@freeze_time("2026-11-23 17:05")
def test_the_card_says_since_when_the_work_is_at_school_and_takes_another_photo(village, signed_in):
    family, plan = signed_in("family"), set_day(village.robins)
    assert "At school since" not in family.get(card_of(village)).content.decode()
    at = dt.datetime(2026, 11, 23, 16, 41, tzinfo=dt.UTC)

    work = send(village.aisha, village.first_home, plan, sent_at=at)

    card = family.get(card_of(village)).content.decode()
    more = reverse("evidence:send-more", args=[work.token])
    assert "At school since 16:41" in card
    assert reverse("evidence:submission", args=[work.token]) in card
    assert more in card
    assert "At school since" not in signed_in("second home").get(card_of(village)).content.decode()
    looked(work, village.people["teacher"])
    assert more not in family.get(card_of(village)).content.decode()
    with freeze_time("2026-11-24 09:00"):
        later = family.get(card_of(village)).content.decode()
    assert "At school since Monday 23 November, 16:41" in later


def test_a_line_of_what_was_sent_begins_to_say_what_the_teacher_said(village, signed_in):
    family = signed_in("family")
    work = send(village.aisha, village.first_home, set_day(village.robins), answers="right")
    waiting = send(village.aisha, village.first_home, work.day_plan)
    piece = add_photo(waiting)
    looked(work, village.people["teacher"], WORDS)

    lines = family.get(SENT).content.decode()

    assert "New:" in lines
    assert "I can see two equal parts on each of your plates, and …" in lines
    assert "five" not in lines
    assert reverse("evidence:piece", args=[piece.token, "thumb"]) in lines
    assert '<div class="piece"><svg' in lines
    family.get(reverse("evidence:submission", args=[work.token]))
    assert "New:" not in family.get(SENT).content.decode()


def test_the_list_asks_the_same_of_the_database_however_many_were_answered(village, signed_in):
    family, plan = signed_in("family"), set_day(village.robins)

    def answer_one() -> None:
        work = send(village.aisha, village.first_home, plan, answers="right")
        add_photo(work)
        looked(work, village.people["teacher"])

    answer_one()
    before = queries_of(family, SENT)
    for _number in range(3):
        answer_one()
    send(village.aisha, village.first_home, plan, answers="right")

    assert queries_of(family, SENT) == before
