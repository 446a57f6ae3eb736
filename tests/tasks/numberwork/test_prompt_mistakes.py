"""Wrong answers suggest a mistake with a probability, and say when they do not tell."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tasks.numberwork import KINDS, how_many, labels, make_prompts, spot_mistakes
from tasks.numberwork.mistakes.spotting import CANNOT_TELL, SURE
from tasks.numberwork.pool import NONE
from tests.tasks.numberwork.drawing import UNHURRIED, prompt_sets


def answers_of(prompts, mistake):
    """Answer as a child with this mistake does."""
    return [prompt.mistakes.get(mistake, prompt.answer) for prompt in prompts]


@UNHURRIED
@given(prompt_sets(), st.data())
def test_the_probabilities_add_up_and_are_ranked(prompts, data):
    choices = [[None, prompt.answer, *prompt.mistakes.values(), "?"] for prompt in prompts]
    answers = [data.draw(st.sampled_from(choice)) for choice in choices]
    findings = spot_mistakes(prompts, answers)
    ranked = [finding for finding in findings if finding.mistake != CANNOT_TELL]
    assert sum(finding.probability for finding in ranked) == pytest.approx(1)
    assert [f.probability for f in ranked] == sorted((f.probability for f in ranked), reverse=True)
    assert all(answers[place] is not None for f in findings for place in f.shown_by)


@pytest.mark.parametrize("name", KINDS)
def test_a_mistake_made_every_time_is_named_first_where_the_set_can_show_it(name):
    kind = KINDS[name]
    within = next((size for size in (20, 50) if size in kind.ranges), kind.ranges[-1])
    prompts = make_prompts(name, within, 5, 4)
    for mistake in kind.mistakes:
        shown = sum(mistake in prompt.mistakes for prompt in prompts)
        if shown >= 3:
            assert mistake in {
                finding.mistake
                for finding in spot_mistakes(prompts, answers_of(prompts, mistake))[:3]
            }


def test_double_for_half_is_named_with_the_prompts_that_show_it():
    prompts = make_prompts("halving", 20, 4, 2)
    answers = [*answers_of(prompts, "doubled")[:3], prompts[3].answer]
    finding = spot_mistakes(prompts, answers)[0]
    assert finding.mistake == "doubled"
    assert finding.shown_by == (0, 1, 2)
    assert finding.sentence == "Said double instead of half in 3 of 4."
    assert finding.probability > SURE


def test_all_right_answers_point_to_no_mistake():
    prompts = make_prompts("adding", 10, 8, 1)
    finding = spot_mistakes(prompts, answers_of(prompts, NONE))[0]
    assert finding.mistake == NONE
    assert finding.shown_by == tuple(range(8))


def test_one_slip_is_not_taken_for_a_mistake():
    prompts = make_prompts("halving", 20, 8, 3)
    answers = answers_of(prompts, NONE)
    answers[2] = prompts[2].mistakes["doubled"]
    assert spot_mistakes(prompts, answers)[0].mistake == NONE


def test_blanks_say_nothing():
    prompts = make_prompts("halving", 20, 4, 2)
    findings = spot_mistakes(prompts, [None] * 4)
    assert findings[0].mistake == CANNOT_TELL
    assert findings[0].sentence.startswith("No answers yet.")
    two = answers_of(prompts, "doubled")[:2]
    alone = {f.mistake: f.probability for f in spot_mistakes(prompts[:2], two)}
    blank = {f.mistake: f.probability for f in spot_mistakes(prompts, [*two, None, None])}
    assert blank["doubled"] == pytest.approx(alone["doubled"])


def test_answers_all_over_the_place_are_not_blamed_on_a_mistake():
    prompts = make_prompts("halving", 20, 8, 3)
    odd_ones = [15, 1, 17, 13, 11, 19, 12, 5]
    first = spot_mistakes(prompts, odd_ones)[0]
    assert first.mistake == CANNOT_TELL


def test_where_two_mistakes_agree_the_next_prompt_tells_them_apart():
    prompt = next(
        prompt
        for prompt in make_prompts("adding", 10, how_many("adding", 10), 1)
        if prompt.numbers == (3, 1)
    )
    findings = spot_mistakes([prompt], [3])
    first, *others = findings
    assert first.mistake == CANNOT_TELL
    alike = {finding.mistake: finding.probability for finding in others[:2]}
    assert alike.keys() == {"counted the start number", "said the first number"}
    assert len(set(alike.values())) == 1
    following = first.next_prompt.mistakes
    assert following["counted the start number"] != following["said the first number"]
    assert first.next_prompt.key != prompt.key


def test_a_right_answer_to_an_open_question_is_right_whichever_it_is():
    open_one = next(
        prompt
        for seed in range(20)
        for prompt in make_prompts("missing-part", 5, 8, seed)
        if prompt.is_open
    )
    for answer in open_one.answers:
        assert spot_mistakes([open_one], [answer])[0].mistake == NONE


def test_a_mistake_the_prompts_cannot_show_is_not_suggested():
    prompts = make_prompts("counting-on-in-ones", 10, 5, 1)
    named = {finding.mistake for finding in spot_mistakes(prompts, answers_of(prompts, NONE))}
    assert "said twenty-ten" not in named


def test_every_label_an_answer_may_have_is_given_or_none():
    prompt = make_prompts("adding", 5, 10, 1)[0]
    assert labels(prompt, prompt.answer) == ()
    assert labels(prompt, None) == ()
    for wrong in prompt.mistakes.values():
        assert {prompt.mistakes[name] for name in labels(prompt, wrong)} == {wrong}


def test_as_many_answers_as_prompts_are_needed():
    prompts = make_prompts("halving", 20, 4, 2)
    with pytest.raises(ValueError, match="answers must be 4, one per prompt, not 3"):
        spot_mistakes(prompts, [1, 2, 3])


def test_no_answers_to_no_prompts_are_nothing_to_tell():
    assert spot_mistakes((), ())[0].mistake == CANNOT_TELL


def test_a_finding_never_says_what_a_child_is():
    for kind in KINDS.values():
        for sentence in kind.mistakes.values():
            assert not {"always", "difficulty", "weak"} & set(sentence.split())
