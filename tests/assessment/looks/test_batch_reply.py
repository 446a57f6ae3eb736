"""One reply to many pieces: each with its own name, each checked by itself."""

import pytest

from assessment.models import Look, SavedPhrase, Tag
from evidence.models import Submission
from evidence.uploads.withdrawal import withdraw
from tests.assessment.builders import fill_class, goal, looked, send, set_day


@pytest.fixture
def pieces(village):
    """Give a piece of each of three children."""
    plan = set_day(village.robins)
    first = send(village.aisha, village.first_home, plan)
    others = [send(child, village.bens_home, plan) for child in fill_class(village, 2)]
    return [first, *others]


def fields(pieces, **more):
    """Give the form as a browser sends it, with *pieces* ticked at version 0."""
    return {"all-ticked": [f"{piece.token}:0" for piece in pieces], **more}


def post(client, village, data, action="together/"):
    """Send the form, and give the words of the page it leads to."""
    answer = client.post(f"/classes/{village.robins.pk}/look/{action}", data, follow=True)
    return answer, answer.content.decode()


def test_each_child_is_named_in_its_own_reply_and_tagged(village, signed_in, pieces):
    data = fields(
        pieces,
        **{"all-reply": "Fair {task}, {child}!", f"all-goal-{goal().pk}": "independently"},
    )
    _answer, html = post(signed_in("teacher"), village, data)
    assert "Saved for 3 children." in html
    assert set(Look.objects.values_list("reply", flat=True)) == {
        "Fair halving, Aisha!", "Fair halving, Child0!", "Fair halving, Child1!",
    }  # fmt: skip
    assert Tag.objects.filter(how="independently").count() == 3


def test_a_piece_somebody_looked_at_meanwhile_is_left_and_named(village, signed_in, pieces):
    looked(pieces[1], village.people["assistant"], reply="From the assistant")
    _answer, html = post(signed_in("teacher"), village, fields(pieces, **{"all-reply": "Mine"}))
    assert "Saved for 2 children." in html
    assert "Not saved for Child0 Z: somebody looked at it in the meantime." in html
    pieces[1].refresh_from_db()
    assert pieces[1].look.reply == "From the assistant"


def test_a_piece_that_its_family_took_back_is_counted_and_the_rest_saved(
    village, signed_in, pieces
):
    withdraw(pieces[2])
    _answer, html = post(signed_in("teacher"), village, fields(pieces, **{"all-reply": "Mine"}))
    assert "Saved for 2 children." in html
    assert "1 piece was taken back by its family." in html


def test_the_whole_is_undone_but_for_what_was_changed_since(village, signed_in, pieces):
    client = signed_in("teacher")
    _answer, html = post(client, village, fields(pieces, **{"all-reply": "Too soon"}))
    assert f"/classes/{village.robins.pk}/look/together/undo/" in html
    looked_on = Look.objects.get(submission=pieces[0])
    client.post(f"/look/{pieces[0].token}/", {"version": looked_on.version, "reply": "Better"})
    _answer, html = post(client, village, {}, "together/undo/")
    assert "Undone for 2 children." in html
    assert "Not undone for Aisha K: somebody changed it since." in html
    assert Submission.objects.not_yet_looked_at().count() == 2


@pytest.mark.parametrize(
    "data",
    [
        {"all-reply": "Nobody is ticked"},
        {"all-ticked": ["nonsense"], "all-reply": "Hello"},
        {"all-ticked": ["a:-1"], "all-reply": "Hello"},
    ],
)
def test_a_form_that_names_no_piece_saves_nothing(village, signed_in, pieces, data):
    answer, html = post(signed_in("teacher"), village, data)
    assert answer.status_code == 422
    assert data["all-reply"] in html
    assert not Look.objects.exists()


def test_ticks_without_words_or_tags_save_nothing_and_stay_ticked(village, signed_in, pieces):
    answer, html = post(signed_in("teacher"), village, fields(pieces[:1]))
    assert answer.status_code == 422
    assert f'value="{pieces[0].token}:0" checked' in html
    assert f'value="{pieces[1].token}:0" checked' not in html


def test_work_of_another_class_is_not_reached_through_the_form(village, signed_in, pieces):
    strange = send(village.cal, village.first_home, set_day(village.wrens))
    post(signed_in("teacher"), village, fields([strange], **{"all-reply": "Hello"}))
    assert not Look.objects.exists()


def test_ones_phrases_are_offered_unfilled(village, signed_in, pieces):
    SavedPhrase.objects.create(user=village.people["teacher"], text="Well, {child}")
    html = signed_in("teacher").get(f"/classes/{village.robins.pk}/look/").content.decode()
    assert 'data-phrase="Well, {child}"' in html
