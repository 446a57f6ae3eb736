"""Marking typed answers, and the mistakes and tags they suggest."""

import pytest

from assessment.looks.marking import MarkedPrompt, kinds_by_weight, likely, marked_tasks
from assessment.looks.suggestions import suggest_tag
from evidence.models import Answer, Submission
from tasks.models import TaskPrompt
from tasks.numberwork import Finding, make_prompts, number_word
from tests.assessment.builders import goal, send, set_day


def marked(village, answers="", kinds=("halving", "one-more"), **more):
    """Give the submission and its marked tasks, by kind."""
    work = send(
        village.aisha,
        village.first_home,
        set_day(village.robins, kinds=kinds),
        answers=answers,
        **more,
    )
    return work, {one.task.kind: one for one in marked_tasks(work)}


def test_right_answers_are_marked_right_and_left_out_ones_are_not_marked(village):
    work, _tasks = marked(village)
    first, second, *_rest = TaskPrompt.objects.filter(task__kind="halving")
    Answer.objects.create(submission=work, prompt=first, text=f" {first.prompt.answer} ")
    Answer.objects.create(submission=work, prompt=second, text="a hundred")
    prompts = next(one for one in marked_tasks(work) if one.task.kind == "halving").prompts
    assert [one.right for one in prompts] == [True, False, None, None]


def test_every_right_answer_of_an_open_question_is_marked_right_and_no_other():
    prompts = make_prompts("number-bonds", within=10, count=8, seed=3, depth="challenge")
    prompt = next(one for one in prompts if len(one.right_answers) > 1)
    for answer in prompt.right_answers:
        assert MarkedPrompt(None, prompt, " and ".join(map(str, answer))).right, answer
    assert MarkedPrompt(None, prompt, "99 and 1").right is False


@pytest.mark.parametrize("language", ["pl", "cy", "ur", "uk", "ro", "ar"])
def test_an_answer_is_marked_in_whatever_language_a_family_types_it(language):
    for prompt in make_prompts("halving", within=20, count=4, seed=7):
        words = number_word(prompt.answer, language)
        assert MarkedPrompt(None, prompt, words).right, words
        assert MarkedPrompt(None, prompt, number_word(prompt.answer + 1, language)).right is False


def test_who_doubles_instead_of_halving_is_told_of_as_a_suggestion(village):
    _work, tasks = marked(village, answers="doubled")
    [suggestion] = tasks["halving"].suggestions()
    assert suggestion.sentence == "Said double instead of half in 4 of 4."
    assert 75 <= suggestion.percent <= 99


def test_right_answers_suggest_no_mistake(village):
    _work, tasks = marked(village, answers="right")
    assert tasks["halving"].suggestions() == []


def test_what_could_mean_several_things_is_said_to_be_unclear():
    unclear = Finding("cannot tell yet", 0.5, (), "These answers could mean several things.")
    said = likely(
        [unclear, Finding("doubled", 0.5, (0,), "Said double instead of half in 1 of 1.")]
    )
    assert [(one.sentence, one.percent) for one in said] == [
        ("These answers could mean several things.", None)
    ]


def test_only_what_was_answered_counts_for_the_kinds_and_the_main_task_comes_first(village):
    work, tasks = marked(village)
    assert kinds_by_weight(tasks.values()) == ["halving", "one-more"]
    recall = TaskPrompt.objects.filter(task__kind="one-more").first()
    Answer.objects.create(submission=work, prompt=recall, text="3")
    assert kinds_by_weight(marked_tasks(work)) == ["one-more"]


def test_a_child_who_changed_groups_keeps_the_prompts_it_answered(village):
    work, _tasks = marked(village, answers="right", kinds=("halving",))
    work.day_plan.tasks.update(group=village.bens_group)
    assert [one.task.kind for one in marked_tasks(work)] == ["halving"]


@pytest.mark.parametrize(
    ("answers", "help_given", "how"),
    [
        ("right", Submission.Help.ALONE, "independently"),
        ("right", Submission.Help.A_LITTLE, "with support"),
        ("right", Submission.Help.TOGETHER, "with support"),
        ("doubled", Submission.Help.ALONE, "not yet"),
    ],
)
def test_a_tag_is_suggested_from_the_answers_and_the_help(village, answers, help_given, how):
    work, tasks = marked(village, answers=answers, kinds=("halving",), help=help_given)
    suggestion = suggest_tag(goal(), tasks.values(), work)
    assert suggestion.how == how
    assert ("4 of 4" if answers == "right" else "0 of 4") in suggestion.reason


@pytest.mark.parametrize("answers", ["", "right"])
def test_nothing_is_suggested_without_answers_or_without_word_of_the_help(village, answers):
    work, tasks = marked(village, answers=answers, kinds=("halving",))
    assert suggest_tag(goal(), tasks.values(), work) is None
