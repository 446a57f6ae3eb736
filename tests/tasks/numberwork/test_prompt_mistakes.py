"""Wrong answers suggest a mistake with a probability, and say when they do not tell."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tasks.numberwork import KINDS, how_many, labels, make_prompts, spot_mistakes
from tasks.numberwork.mistakes.model import alike
from tasks.numberwork.mistakes.spotting import CANNOT_TELL, SURE
from tasks.numberwork.mistakes.wording import words_of_mistake
from tasks.numberwork.pool import NONE, STEPS
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
            # Where it gives what a plain miscount gives, the miscount is what can be said.
            assert alike(prompts)[name, mistake][1] in {
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
    [prompt] = sums((5, 5))
    findings = spot_mistakes([prompt], [5])
    first, *others = findings
    assert first.mistake == CANNOT_TELL
    alike_ones = {
        finding.mistake: finding.probability
        for finding in others
        if finding.mistake in ("said the first number", "said the second number")
    }
    assert len(alike_ones) == 2
    assert len(set(alike_ones.values())) == 1
    following = first.next_prompt.mistakes
    assert following["said the first number"] != following["said the second number"]
    assert first.next_prompt.key != prompt.key


def sums(*wanted):
    """Return prompts that add these numbers."""
    every = make_prompts("adding", 10, how_many("adding", 10), 1)
    return [next(one for one in every if one.numbers == numbers) for numbers in wanted]


def test_one_too_few_each_time_is_said_with_two_things_it_may_be_and_what_to_watch_for():
    prompts = sums((4, 3), (5, 2), (2, 6), (3, 5), (6, 3), (2, 2))
    findings = spot_mistakes(prompts, [prompt.answer - 1 for prompt in prompts])
    assert "counted the start number" not in {finding.mistake for finding in findings}
    assert findings[0].mistake == "one too few"
    assert findings[0].sentence == (
        "One too few in 6 of 6. It may be: “Counted the first number again when counting on, so "
        "gave one too few”; or a thing or a number was left out. Watch one counted aloud: where "
        "it starts, one number for each thing, where it stops."
    )
    few = spot_mistakes(prompts[:4], [prompt.answer - 1 for prompt in prompts[:4]])[0]
    assert few.mistake == CANNOT_TELL
    assert few.sentence.startswith("One too few in 4 of 4. It may be:")


def test_one_off_both_ways_is_said_to_be_just_that():
    prompts = make_prompts("halving", 20, 8, 3)
    answers = [prompt.answer + (1 if place % 2 else -1) for place, prompt in enumerate(prompts)]
    first = spot_mistakes(prompts, answers)[0]
    assert first.mistake == "one off, either way"
    assert not first.is_mistake
    assert first.sentence == "One off in 8 of 8, some too few and some too many."


def test_two_mistakes_in_turn_are_more_than_one_thing():
    prompts = make_prompts("halving", 20, 8, 3)
    answers = [
        prompt.mistakes["doubled" if place % 2 else "took two away"]
        for place, prompt in enumerate(prompts)
    ]
    first = spot_mistakes(prompts, answers)[0]
    assert first.mistake == "more than one thing"
    assert "Said double instead of half (4)" in first.sentence
    assert "Took two away instead of halving (4)" in first.sentence


def halves(*wanted):
    """Return prompts that halve these numbers by a number sentence."""
    every = make_prompts("halving-number-sentence", 20, 20, 1)
    return [next(one for one in every if one.numbers[0] == whole) for whole in wanted]


def test_one_telling_answer_gets_a_sentence_and_one_prompt_like_it():
    prompts = halves(18, 6, 10, 12, 8)
    for asked in (prompts, prompts[:1]):
        answers = [16, *(prompt.answer for prompt in asked[1:])]
        first = spot_mistakes(asked, answers)[0]
        assert not first.is_mistake
        said = asked[0].sentence.replace("□", "16")
        assert f"{said}: “Took two away instead of halving” gives this." in first.sentence
        assert first.sentence.endswith(f"Ask one more like it: {first.next_prompt.sentence}")
        following = first.next_prompt
        assert following.key not in {prompt.key for prompt in asked}
        told = following.mistakes["took two away"]
        assert list(following.mistakes.values()).count(told) == 1
        assert abs(told - following.answer) > 2


def test_an_answer_that_a_slip_near_by_gives_too_is_not_telling():
    prompts = halves(6, 18, 10, 12)
    findings = spot_mistakes(prompts, [4, 9, 5, 6])
    assert not findings[0].is_mistake
    assert not any("gives this" in finding.sentence for finding in findings)


def test_mistakes_of_two_kinds_keep_their_own_words():
    prompts = [*make_prompts("doubling", 20, 4, 1), *make_prompts("halving", 20, 4, 1)]
    answers = [prompt.mistakes.get("said the number itself", prompt.answer) for prompt in prompts]
    found = spot_mistakes(prompts, answers)
    keys = {(one.kind, one.mistake) for one in found if one.is_mistake}
    assert {kind for kind, _ in keys} == {"doubling", "halving"}
    assert all(
        words_of_mistake(*key) in KINDS[key[0]].mistakes.values() or key[1] in STEPS for key in keys
    )


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
