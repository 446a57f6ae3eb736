"""The page on which a teacher looks at one piece, and the list it is reached from."""

import pytest

from assessment.looks.looking import LookData, save_look
from assessment.models import Look, Tag
from evidence.models import Piece, Submission
from tests.assessment.builders import add_photo, goal, looked, send, set_day


@pytest.fixture
def work(village):
    """Give a submission with wrong answers and a word from home."""
    plan = set_day(village.robins)
    return send(
        village.aisha,
        village.first_home,
        plan,
        answers="doubled",
        help="alone",
        note="She said double is easier.",
    )


def page_of(client, work, query=""):
    """Give the words of the look page."""
    return client.get(f"/look/{work.token}/{query}").content.decode()


def form(version=0, **more):
    """Give the fields of the form as a browser sends them."""
    return {"version": version, "reply": "", "next_step": "", **more}


def test_answers_stand_marked_beside_the_right_ones_with_sign_and_word(signed_in, work):
    html = page_of(signed_in("teacher"), work)
    assert html.count("not right") == 4
    for answer in work.answers.select_related("prompt"):
        assert answer.prompt.sentence in html
        assert f"<td>{answer.prompt.prompt.answer}</td>" in html
    assert "Said double instead of half in 4 of 4." in html
    assert "It may be:" in html


def test_the_help_and_the_word_from_home_are_shown(signed_in, work):
    html = page_of(signed_in("teacher"), work)
    assert "All alone" in html
    assert "She said double is easier." in html
    assert "4 of 4 answered" in html


def test_pieces_are_shown_large_and_those_on_their_way_ask_again(signed_in, work):
    ready, coming = add_photo(work), add_photo(work, Piece.State.ARRIVED)
    html = page_of(signed_in("teacher"), work)
    assert f"/pieces/{ready.token}/display/?page=1" in html
    assert f'data-poll="/pieces/{coming.token}/state/"' in html
    assert f"/pieces/{coming.token}/display/" not in html


def test_a_piece_that_could_not_be_read_is_said_to_be_so(signed_in, work):
    piece = add_photo(work, Piece.State.REFUSED)
    html = page_of(signed_in("teacher"), work)
    assert "could not be read" in html
    assert f"/pieces/{piece.token}/display/" not in html


def test_the_latest_three_tags_on_a_suggested_goal_are_beside_it(village, signed_in, work):
    for day, how in enumerate(["independently", "not yet", "with support", "with support"], 16):
        plan = set_day(village.robins, work.day_plan.date.replace(day=day))
        looked(send(village.aisha, village.first_home, plan), village.people["teacher"], how=how)
    html = page_of(signed_in("teacher"), work)
    assert "19 Nov <b>with support</b>; 18 Nov <b>with support</b>; 17 Nov <b>not yet</b>" in html
    assert "16 Nov" not in html


def test_saving_goes_on_to_the_next_piece_with_a_way_to_undo(village, signed_in, work):
    following = send(village.ben, village.bens_home, work.day_plan)
    client = signed_in("teacher")
    fields = form(reply="Fair!", **{f"goal-{goal().pk}": "not yet"}, next="1")
    answer = client.post(f"/look/{work.token}/", fields)
    assert answer.url == f"/look/{following.token}/?saved={work.token}"
    html = client.get(answer.url).content.decode()
    assert "Saved for Aisha K." in html
    assert f"/look/{work.token}/undo/?version=1" in html
    assert Tag.objects.get().how == "not yet"


def test_after_the_last_piece_the_list_says_that_nothing_waits(signed_in, village, work):
    client = signed_in("teacher")
    answer = client.post(f"/look/{work.token}/", form(reply="Fair!", next="1"), follow=True)
    html = answer.content.decode()
    assert "Nothing waits." in html
    assert "Saved for Aisha K." in html


def test_undo_on_the_page_lets_the_piece_wait_with_its_words_kept(signed_in, work):
    client = signed_in("teacher")
    client.post(f"/look/{work.token}/", form(reply="Oh no, not yet"))
    answer = client.post(f"/look/{work.token}/undo/?version=1", follow=True)
    html = answer.content.decode()
    assert "This piece waits again." in html
    assert "Oh no, not yet" in html
    work.refresh_from_db()
    assert work.looked_at is None


@pytest.mark.parametrize("query", ["", "?version=0", "?version=two", "?version=7"])
def test_an_undo_of_what_is_not_there_undoes_nothing(village, signed_in, work, query):
    looked(work, village.people["teacher"], reply="Stays")
    answer = signed_in("teacher").post(f"/look/{work.token}/undo/{query}", follow=True)
    assert "Nothing was undone." in answer.content.decode()
    work.refresh_from_db()
    assert work.looked_at is not None


def test_the_second_to_save_sees_who_was_first_and_keeps_what_was_typed(village, signed_in, work):
    halves = goal()
    saying = LookData("From the assistant", "", {halves.pk: "with support"})
    save_look(work, village.people["assistant"], saying, 0)
    client = signed_in("teacher")
    fields = form(reply="From the teacher", **{f"goal-{halves.pk}": "not yet"})
    answer = client.post(f"/look/{work.token}/", fields)
    html = answer.content.decode()
    assert answer.status_code == 409
    assert "Assistant saved a look at this piece" in html
    assert "From the assistant" in html
    assert "From the teacher" in html
    assert 'name="version" value="1"' in html
    assert Look.objects.get().reply == "From the assistant"


def test_saving_once_more_knowingly_puts_ones_own_in_place(village, signed_in, work):
    looked(work, village.people["assistant"], reply="From the assistant")
    signed_in("teacher").post(f"/look/{work.token}/", form(1, reply="From the teacher"))
    assert Look.objects.get().reply == "From the teacher"


def test_work_taken_back_while_it_was_open_is_not_there_any_more(signed_in, work):
    Submission.objects.filter(pk=work.pk).update(withdrawn_at=work.sent_at)
    assert signed_in("teacher").post(f"/look/{work.token}/", form()).status_code == 404


def test_a_how_that_does_not_exist_is_refused_and_the_words_stay(signed_in, work):
    fields = form(reply="My words", **{f"goal-{goal().pk}": "brilliantly"})
    answer = signed_in("teacher").post(f"/look/{work.token}/", fields)
    assert answer.status_code == 422
    assert "My words" in answer.content.decode()
    assert not Look.objects.exists()


def test_every_action_has_a_key_and_staff_are_told_where_a_worry_goes(village, signed_in, work):
    send(village.ben, village.bens_home, work.day_plan)
    html = page_of(signed_in("teacher"), work)
    for key in ("1", "2", "3", "4", "Ctrl+Enter", "Ctrl+s", "k", "a", "g", "m", "b", "r"):
        assert html.count(f'data-key="{key}"') == 1, key
    assert "designated safeguarding lead in person, at once" in html


@pytest.mark.parametrize(
    ("role", "status"),
    [
        ("visitor", 302),
        ("family", 404),
        ("other family", 404),
        ("teacher", 200),
        ("assistant", 200),
        ("other teacher", 404),
        ("lead", 200),
        ("office", 404),
        ("foreign lead", 404),
    ],
)
def test_only_the_childs_own_staff_look(signed_in, work, role, status):
    client = signed_in(role)
    assert client.get(f"/look/{work.token}/").status_code == status
    saved = client.post(f"/look/{work.token}/", form(reply="Hello"))
    assert saved.status_code == (302 if status == 200 else status)
    assert Look.objects.exists() == (status == 200)


def test_the_list_shows_what_waits_oldest_first_with_what_came(village, signed_in, work):
    late = send(village.ben, village.bens_home, work.day_plan, help="together")
    add_photo(late, Piece.State.ARRIVED)
    answer = signed_in("teacher").get(f"/classes/{village.robins.pk}/look/")
    html = answer.content.decode()
    assert html.index("Aisha K</bdi>") < html.index("Ben T</bdi>")
    assert "2 pieces of work" in html
    assert "1 piece, one being made ready, no answers" in html
    assert "we did it together" in html


@pytest.mark.parametrize(
    ("query", "shown"),
    [
        ("", ["Aisha K", "Ben T"]),
        ("?help=together", ["Ben T"]),
        ("?show=looked-at", []),
        ("?show=all&help=alone", ["Aisha K"]),
        ("?show=nonsense&help=nonsense&child=0", ["Aisha K", "Ben T"]),
    ],
)
def test_the_list_can_be_narrowed(village, signed_in, work, query, shown):
    send(village.ben, village.bens_home, work.day_plan, help="together")
    page = signed_in("teacher").get(f"/classes/{village.robins.pk}/look/{query}")
    assert [str(each.child) for each in page.context["page"].object_list] == shown


def test_the_list_can_be_narrowed_to_a_child_of_the_class_only(village, signed_in, work):
    client, address = signed_in("teacher"), f"/classes/{village.robins.pk}/look/"
    own = client.get(f"{address}?child={village.ben.pk}")
    assert list(own.context["page"].object_list) == []
    strange = client.get(f"{address}?child={village.dot.pk}")
    assert "Dot" not in strange.content.decode()
