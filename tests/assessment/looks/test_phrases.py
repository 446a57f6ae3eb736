"""A person's saved phrases: filled in for a child, kept, ordered, and nobody else's."""

import html
import re

import pytest
from django.urls import reverse

from assessment.looks.marking import done_in, marked_tasks
from assessment.looks.models.phrases import MOST
from assessment.looks.phrases import (
    TooManyPhrasesError,
    general,
    keep_phrase,
    move_phrase,
    put_back,
    to_hand,
)
from assessment.looks.ready_made import filled, named
from assessment.models import SavedPhrase
from tests.assessment.builders import send, set_day
from tests.assessment.looks.test_look_page import form


@pytest.fixture
def teacher(village):
    return village.people["teacher"]


def page_of(client, work):
    return html.unescape(client.get(reverse("assessment:look", args=[work.token])).content.decode())


def texts(user):
    """Give the phrases of *user* in order."""
    return [phrase.text for phrase in SavedPhrase.objects.of(user)]


def test_a_phrase_names_the_child_and_the_work(village):
    said = filled("Well tried, {child}: the {task} is right.", village.aisha, ["halving", "adding"])
    assert said == "Well tried, Aisha: the halving is right."


def test_work_of_no_known_kind_is_number_work(village):
    assert filled("More {task}?", village.aisha, []) == "More number work?"
    assert named(["knitting"]) == "knitting"


def test_braces_that_stand_for_nothing_stay_as_they_were_typed(village):
    assert filled("{0} {name.pk} {", village.aisha, []) == "{0} {name.pk} {"


def test_a_reply_kept_as_a_phrase_fits_any_child(village):
    assert general("Aisha,  both plates\nhave four, Aisha!", village.aisha) == (
        "{child}, both plates have four, {child}!"
    )


def test_a_reply_says_what_this_child_found_by_its_hardest_right_answer(village, teacher, client):
    keep_phrase(teacher, "{done}. How did you check, {child}?")
    plan = set_day(village.robins)
    right = send(village.aisha, village.first_home, plan, answers="right")
    wrong = send(village.ben, village.second_home, plan, answers="doubled")
    found = done_in(marked_tasks(right))
    assert re.fullmatch(r"You halved: \d+ = (\d+) \+ \1", found)

    client.force_login(teacher)
    assert f"{found}. How did you check, Aisha?" in page_of(client, right)
    assert "You worked on halving. How did you check, Ben?" in page_of(client, wrong)


def test_a_reply_that_says_what_was_found_is_kept_as_a_phrase_for_what_others_find(village):
    reply = "You halved: 6 = 3 + 3. Fair, Aisha!"
    assert general(reply, village.aisha, "You halved: 6 = 3 + 3") == "{done}. Fair, {child}!"


def test_the_first_five_have_keys_that_say_no_tag(village, teacher):
    for number in range(7):
        keep_phrase(teacher, f"Phrase {number}")
    assert [phrase.key for phrase in to_hand(teacher, village.aisha, [])] == [
        *"56789", "", "",
    ]  # fmt: skip


def test_the_same_phrase_is_kept_once(teacher):
    assert keep_phrase(teacher, "Again!") == keep_phrase(teacher, "Again!")
    assert texts(teacher) == ["Again!"]


def test_there_is_an_end_to_how_many_are_kept(teacher):
    for number in range(MOST):
        keep_phrase(teacher, f"Phrase {number}")
    with pytest.raises(TooManyPhrasesError):
        keep_phrase(teacher, "One more")


def test_moving_keeps_all_and_stops_at_the_ends(teacher):
    a, _b, c = (keep_phrase(teacher, text) for text in "abc")
    move_phrase(c, -1)
    assert texts(teacher) == ["a", "c", "b"]
    move_phrase(a, -1)
    assert texts(teacher) == ["a", "c", "b"]
    move_phrase(a, 1)
    assert texts(teacher) == ["c", "a", "b"]


def test_a_phrase_comes_back_to_its_old_place(teacher):
    _a, b, _c = (keep_phrase(teacher, text) for text in "abc")
    b.delete()
    put_back(teacher, "b", 1)
    assert texts(teacher) == ["a", "b", "c"]


def test_the_page_adds_changes_moves_and_removes_with_an_undo(signed_in, teacher):
    client = signed_in("teacher")
    client.post("/phrases/", {"text": "Count  them,\n{child}"})
    client.post("/phrases/", {"text": "Second"})
    first = SavedPhrase.objects.of(teacher).first()
    assert first.text == "Count them, {child}"
    client.post(f"/phrases/{first.pk}/", {"text": "Count again, {child}"})
    client.post(f"/phrases/{first.pk}/move/", {"by": "1"})
    assert texts(teacher) == ["Second", "Count again, {child}"]
    page = client.post(f"/phrases/{first.pk}/remove/", follow=True).content.decode()
    assert "Removed: Count again, {child}" in page
    client.post("/phrases/put-back/")
    assert texts(teacher) == ["Second", "Count again, {child}"]


def test_a_phrase_that_is_there_already_is_not_saved_twice(signed_in, teacher):
    client = signed_in("teacher")
    client.post("/phrases/", {"text": "Same"})
    answer = client.post("/phrases/", {"text": " Same "})
    assert answer.status_code == 422
    assert "You have saved this phrase already." in answer.content.decode()
    assert texts(teacher) == ["Same"]


def test_somebody_elses_phrases_are_not_there(village, signed_in, teacher):
    phrase = keep_phrase(teacher, "Mine")
    client = signed_in("assistant")
    assert "Mine" not in client.get("/phrases/").content.decode()
    for address in ("", "move/", "remove/"):
        assert client.post(f"/phrases/{phrase.pk}/{address}", {"by": "1"}).status_code == 404
    assert texts(teacher) == ["Mine"]


def test_one_may_start_from_a_few(signed_in, teacher):
    client = signed_in("teacher")
    assert "Start from a few" in client.get("/phrases/").content.decode()
    client.post("/phrases/start/")
    assert len(texts(teacher)) == 5
    assert all("{child}" in text for text in texts(teacher))


def test_the_look_page_offers_ones_own_filled_in(village, signed_in, teacher):
    keep_phrase(teacher, "Nice {task}, {child}")
    keep_phrase(village.people["assistant"], "Not this one")
    work = send(village.aisha, village.first_home, set_day(village.robins))
    html = signed_in("teacher").get(f"/look/{work.token}/").content.decode()
    assert 'data-phrase="Nice halving, Aisha"' in html
    assert "Not this one" not in html


def test_a_reply_is_kept_as_a_phrase_where_that_is_ticked(village, signed_in, teacher):
    work = send(village.aisha, village.first_home, set_day(village.robins))
    fields = form(reply="{child}, that {task} is fair!", keep="on")
    html = signed_in("teacher").post(f"/look/{work.token}/", fields, follow=True).content.decode()
    assert "Kept as a phrase." in html
    assert texts(teacher) == ["{child}, that {task} is fair!"]
    work.refresh_from_db()
    assert work.look.reply == "Aisha, that halving is fair!"
