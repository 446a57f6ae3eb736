"""Marking typed answers, and the mistakes and tags they suggest."""

from dataclasses import fields

import pytest

from assessment.looks.look_context import suggest_tag
from assessment.looks.marking import (
    MarkedPrompt,
    Suggestion,
    kinds_by_weight,
    likely,
    marked_tasks,
)
from assessment.looks.suggestions import works_of
from evidence.models import Answer, Submission
from tasks.cards.wording import what_to_do
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
    assert suggestion.is_mistake


def test_right_answers_suggest_no_mistake(village):
    _work, tasks = marked(village, answers="right")
    assert tasks["halving"].suggestions() == []


def test_what_could_mean_several_things_is_said_to_be_unclear():
    unclear = Finding("cannot tell yet", 0.5, (), "These answers could mean several things.")
    said = likely(
        [unclear, Finding("doubled", 0.5, (0,), "Said double instead of half in 1 of 1.")]
    )
    assert [(one.sentence, one.is_mistake) for one in said] == [
        ("These answers could mean several things.", False)
    ]


def test_one_telling_answer_says_what_to_ask_next(village):
    work, _tasks = marked(village, answers="right", kinds=("halving",))
    answers = list(work.answers.select_related("prompt"))
    last = answers[-1]
    last.text = str(last.prompt.prompt.mistakes["doubled"])
    last.save()
    work = Submission.objects.get(pk=work.pk)
    [suggestion] = marked_tasks(work)[0].suggestions()
    assert "“Said double instead of half” gives this. Ask one more like it:" in suggestion.sentence
    assert not suggestion.is_mistake


def test_no_mistake_is_said_in_per_cent():
    """People are shown counts; a probability reads as more than a few answers can tell."""
    assert {each.name for each in fields(Suggestion)} == {"mistake", "sentence", "is_mistake"}


def test_what_too_few_answers_cannot_tell_does_not_count_as_shown_or_not(village):
    _work, tasks = marked(village, answers="right", kinds=("halving",))
    assert "doubled" in tasks["halving"].could_show
    assert "one too few" not in tasks["halving"].could_show


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
    ("answers", "help_given", "how", "reason"),
    [
        ("right", Submission.Help.ALONE, "independently", "4 of 4 right, all alone"),
        ("right", Submission.Help.A_LITTLE, "with support", "4 of 4 right, with a little help"),
        ("right", Submission.Help.TOGETHER, "with support", "4 of 4 right, done together"),
        ("right", "", "with support", "4 of 4 right, help not said"),
        ("doubled", Submission.Help.ALONE, "", "0 of 4 right, too many wrong"),
    ],
)
def test_a_tag_is_suggested_from_the_answers_and_the_help(
    village, answers, help_given, how, reason
):
    _work, tasks = marked(village, answers=answers, kinds=("halving",), help=help_given)
    suggestion = suggest_tag(goal(), works_of(tasks.values()))
    assert (suggestion.how, suggestion.reason) == (how, reason)


def test_nothing_is_suggested_without_answers(village):
    _work, tasks = marked(village, kinds=("halving",))
    assert suggest_tag(goal(), works_of(tasks.values())) is None


def subitised(village, glimpse, words=""):
    """Give how "subitise" is suggested where all is right and each picture was seen so long."""
    plan = set_day(village.robins)
    plan.tasks.update(kind="subitising", within=5, words=words)
    task = plan.tasks.get()
    task.prompts.all().delete()
    prompts = make_prompts("subitising", within=5, count=6, seed=1)
    TaskPrompt.objects.bulk_create(
        TaskPrompt.of(task, place, prompt) for place, prompt in enumerate(prompts)
    )
    work = send(village.aisha, village.first_home, plan, answers="right", help="alone")
    work.answers.update(glimpse=glimpse)
    return suggest_tag(goal("ELG-NUM-2"), works_of(marked_tasks(work)))


@pytest.mark.parametrize(
    ("glimpse", "how"), [(2050, "independently"), (3000, "independently"), (4100, ""), (None, "")]
)
def test_subitising_is_suggested_only_where_the_picture_was_covered_after_one_look(
    village, glimpse, how
):
    assert subitised(village, glimpse).how == how


def test_where_a_part_says_to_say_it_together_nothing_is_suggested_alone(village):
    """The usual words of quick recall: the answer is said together if it does not come."""
    words = what_to_do("quick_recall", "subitising")
    suggestion = subitised(village, 2050, words)
    assert suggestion.how == "with support"
    assert "said together" in suggestion.reason


def test_help_counts_for_the_part_it_was_said_of(village):
    work, _tasks = marked(village, answers="right", help="alone")
    work.answers.filter(prompt__task__kind="halving").update(help="")
    tasks = {one.task.kind: one for one in marked_tasks(work)}
    assert tasks["halving"].help_words == "help not said"
    assert tasks["one-more"].help_words == "all alone"
    assert suggest_tag(goal(), works_of(tasks.values())).how == "with support"
