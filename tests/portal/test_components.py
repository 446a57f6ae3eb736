"""The parts that pages are put together from say what they should, with and without scripts."""

import re

import pytest
from django import forms
from django.core.paginator import Paginator
from django.template import Context, Template, TemplateSyntaxError
from django.test import RequestFactory

from portal.templatetags.components import NOTICE, STATUS

HOW = [("not_yet", "not yet"), ("with_support", "with support"), ("new", "in a new situation")]


def drawn(source: str, **context: object) -> str:
    """Render template source with the components loaded, spaces drawn together."""
    html = Template("{% load components crispy_forms_tags %}" + source).render(Context(context))
    return re.sub(r"\s+", " ", html)


class Answer(forms.Form):
    """A form that can be wrong in a field and as a whole."""

    words = forms.CharField(label="What did you see?")

    def clean(self) -> None:
        """Be amiss as a whole."""
        raise forms.ValidationError("Send a photo or words.")


def test_an_icon_beside_a_word_is_not_read_out_twice():
    assert 'aria-hidden="true"' in drawn("{% icon 'send' %}")


def test_an_icon_alone_carries_its_word():
    html = drawn("{% icon 'send' label %}", label="Send <now>")
    assert 'role="img" aria-label="Send &lt;now&gt;"' in html


@pytest.mark.parametrize(
    "source",
    [
        "{% icon 'heart' %}",
        "{% notice 'shout' %}x{% endnotice %}",
        "{% status_word 'lost' %}",
        "{% piece_figure 'hologram' %}",
    ],
)
def test_a_word_that_no_part_knows_stops_the_page(source):
    with pytest.raises(TemplateSyntaxError, match="is one of"):
        drawn(source)


def test_a_page_says_what_it_is_for_under_its_only_title():
    html = drawn("{% page_head 'Plan' 'Set the work of a week.' '/week' 'Back to the week' %}")
    assert html.count("<h1") == 1
    assert '<p class="purpose">Set the work of a week.</p>' in html
    assert 'href="/week"' in html


def test_an_empty_page_says_what_to_do_next():
    html = drawn("{% empty_state 'No work today.' 'Set a day.' '/plan' 'Plan today' 'plan' %}")
    assert "Set a day." in html
    assert '<a class="button" href="/plan">Plan today</a>' in html


@pytest.mark.parametrize("kind", NOTICE)
def test_a_notice_tells_its_kind_by_a_word_and_not_by_colour_alone(kind):
    icon, word = NOTICE[kind]
    html = drawn("{% notice kind %}<p>{{ text }}</p>{% endnotice %}", kind=kind, text="1 < 2")
    assert f'<p class="notice-word">{word}</p>' in html
    assert f"#{icon}" in html
    assert "<p>1 &lt; 2</p>" in html


def test_a_notice_lets_no_markup_of_a_family_through():
    html = drawn("{% notice 'info' word=word %}{{ text }}{% endnotice %}", word="<b>", text="<i>")
    assert "<b>" not in html
    assert "<i>" not in html


def test_cautions_stand_together_under_one_word():
    html = drawn("{% caution_box items %}", items=[("cut", "Cut with an adult."), ("food", "Ask.")])
    assert html.count("Stay safe") == 1
    assert html.count("<li>") == 2


def test_a_task_without_cautions_shows_no_empty_box():
    assert drawn("{% caution_box items %}", items=[]).strip() == ""


def test_a_piece_that_is_not_ready_shows_its_kind_and_asks_again():
    html = drawn("{% piece_figure 'clip' caption='Halving' status='preparing' poll='/piece/3' %}")
    assert 'data-poll="/piece/3"' in html
    assert "being made ready" in html
    assert "<img" not in html


def test_a_ready_piece_carries_its_words_for_those_who_do_not_see_it():
    html = drawn("{% piece_figure 'photo' src='/t/3' alt='Halving, Monday' url='/piece/3' %}")
    assert '<img src="/t/3" alt="Halving, Monday"' in html
    assert '<a href="/piece/3">' in html
    assert "data-poll" not in html


def test_a_link_round_a_piece_without_a_picture_still_has_a_name():
    html = drawn("{% piece_figure 'voice' caption='Counting' url='/piece/3' %}")
    assert '<a href="/piece/3" aria-label="Counting">' in html


@pytest.mark.parametrize("code", STATUS)
def test_how_far_a_piece_has_got_is_said_in_words(code):
    assert str(STATUS[code][1]) in drawn("{% status_word code %}", code=code)


def test_progress_is_said_in_words_too():
    html = drawn("{% progress_line 'Looked at' 12 30 %}")
    assert "12 of 30" in html
    assert '<progress value="12" max="30" aria-label="Looked at">' in html


def test_a_number_can_be_written_without_scripts():
    html = drawn("{% number_keys 'answer' 'answer-1' 'How many?' 0 2 %}")
    assert '<label class="form-label" for="answer-1">How many?</label>' in html
    assert 'name="answer" value="0" inputmode="numeric" pattern="[0-9]*" maxlength="2"' in html
    assert re.search(r'<div class="number-keys"[^>]* hidden>', html)
    assert html.count('<button type="button" value=') == 10


def test_what_is_wrong_with_a_number_is_tied_to_its_field():
    html = drawn("{% number_keys 'a' 'a1' 'How many?' error='Write a number.' %}")
    assert 'aria-invalid="true" aria-describedby="a1-error"' in html
    assert 'id="a1-error">Write a number.' in html


def test_an_unanswered_number_is_left_empty():
    assert 'value=""' in drawn("{% number_keys 'a' 'a1' 'How many?' value %}", value=None)


def test_listening_is_offered_only_where_scripts_can_speak():
    html = drawn("{% listen text 'en-GB' %}", text='Say "two".')
    assert 'lang="en-GB" data-speak="Say &quot;two&quot;."' in html
    assert "hidden>" in html


def test_a_card_is_listened_to_part_by_part():
    assert 'data-speak-from="card-1"' in drawn("{% listen parts_of='card-1' %}")


def test_choices_are_radio_buttons_of_one_group_under_a_legend():
    html = drawn("{% choice_row 'how' 'How shown?' how 'with_support' '123' %}", how=HOW)
    assert "<legend>How shown?</legend>" in html
    assert html.count('type="radio" name="how"') == 3
    assert re.findall(r'value="(\w+)" checked', html) == ["with_support"]
    assert re.findall(r'data-key="(\d)"', html) == ["1", "2", "3"]


def test_several_choices_may_be_ticked_and_need_no_keys():
    html = drawn("{% choice_row 'g' 'Goals' how chosen several=True %}", how=HOW, chosen=["new"])
    assert html.count('type="checkbox"') == 3
    assert re.findall(r'value="(\w+)" checked', html) == ["new"]
    assert "data-key" not in html


def test_a_chosen_number_matches_its_choice_written_as_text():
    html = drawn("{% choice_row 'n' 'Which?' rows 2 %}", rows=[("1", "one"), ("2", "two")])
    assert re.findall(r'value="(\w)" checked', html) == ["2"]


def test_tags_name_the_goal_and_how_it_was_shown():
    html = drawn("{% tag_list tags %}", tags=[("Bonds to 5", "independently")])
    assert "Bonds to 5 <b>independently</b>" in html


def test_a_stacked_table_keeps_its_headings_in_every_cell():
    html = drawn("{% stack_table 'Week' head rows %}", head=("Child", "Pieces"), rows=[("Bo", 3)])
    assert '<th role="rowheader" scope="row">Bo</th>' in html
    assert '<td role="cell" data-label="Pieces"><span>3</span></td>' in html


def test_a_row_that_does_not_fit_its_headings_is_an_error():
    with pytest.raises(ValueError, match="argument 2"):
        drawn("{% stack_table 'Week' head rows %}", head=("Child", "Pieces"), rows=[("Bo",)])


def test_turning_a_page_keeps_what_else_was_asked_for():
    request = RequestFactory().get("/", {"goal": "bonds", "page": "2"})
    html = drawn("{% pager page %}", page=Paginator(range(30), 10).page(2), request=request)
    assert 'href="?goal=bonds&amp;page=1"' in html
    assert 'href="?goal=bonds&amp;page=3"' in html
    assert "Page 2 of 3" in html


def test_a_list_of_one_page_has_no_pager():
    assert drawn("{% pager page %}", page=Paginator(range(3), 10).page(1)).strip() == ""


def test_a_question_before_an_action_is_reached_by_a_plain_link():
    html = drawn(
        "{% ask_link 'ask-3' 'Take back' %}{% ask 'ask-3' 'Sure?' 'Gone.' '/take/3' 'Take' %}",
        csrf_token="t0ken",
    )
    assert 'href="#ask-3" data-ask' in html
    assert '<dialog class="ask" id="ask-3" aria-labelledby="ask-3-title">' in html
    assert 'method="post" action="/take/3"' in html
    assert "t0ken" in html


def test_undo_is_a_real_form_that_works_without_scripts():
    html = drawn("{% undo_line 'Tagged.' '/undo/3' %}", csrf_token="t0ken")
    assert 'role="status"' in html
    assert '<form method="post" action="/undo/3">' in html
    assert "t0ken" in html


@pytest.mark.parametrize("source", ["{% form_errors form %}", "{{ form|crispy }}"])
def test_what_is_amiss_in_a_form_is_listed_at_its_top_and_linked(source):
    html = drawn(source, form=Answer({}))
    assert "Send a photo or words." in html
    assert '<a href="#id_words">What did you see?</a>' in html


@pytest.mark.parametrize("form", [Answer(), None])
def test_a_form_not_yet_sent_lists_nothing(form):
    assert drawn("{% form_errors form %}", form=form).strip() == ""


def test_a_message_becomes_a_notice_of_the_fitting_kind():
    kinds = [drawn("{{ level|notice_kind }}", level=x) for x in ("success", "error", "odd")]
    assert kinds == ["done", "caution", "info"]


def test_no_part_carries_script_or_style_of_its_own():
    html = drawn("{% upload_line %}{% listen 'a' %}{% number_keys 'a' 'b' 'c' %}")
    assert "style=" not in html
    assert not re.search(r"\son\w+=", html)
