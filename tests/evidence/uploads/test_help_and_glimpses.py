"""The help there was with a part, and how long a picture was seen, are kept with the answers."""

from importlib import import_module
from types import SimpleNamespace

import pytest
from django.apps import apps
from django.db import connection

from evidence.models import Answer, Submission
from tasks.cards.wording import what_to_do
from tasks.models import DayPlan, Task, TaskPrompt
from tasks.numberwork import EVERY_KIND, make_prompts
from tests.evidence.builders import form, make_submission, sent

pytestmark = pytest.mark.django_db


def recall(plan: DayPlan) -> TaskPrompt:
    """Put a second part with one prompt into *plan*, and give the prompt."""
    task = Task.objects.create(
        day_plan=plan, part="quick_recall", kind="one-more", within=10, count=1, seed=1
    )
    prompt = TaskPrompt.of(task, 0, make_prompts("one-more", 10, 1, 1)[0])
    prompt.save()
    return prompt


def test_help_is_kept_with_the_part_it_was_said_of_and_is_not_said_of_another(village, family):
    first = TaskPrompt.objects.first()
    fields = {f"answer-{first.pk}": "4", f"help-{first.task_id}": "alone"}
    submission = sent(family, village.aisha, **fields)
    assert [(each.text, each.help) for each in submission.answers.all()] == [("4", "alone")]
    assert submission.help == "alone"

    rest = recall(first.task.day_plan)
    submission = sent(family, village.aisha, **fields, **{f"answer-{rest.pk}": "3"})
    assert sorted(each.help for each in submission.answers.all()) == ["", "alone"]
    assert submission.help == ""  # of the whole it was not said that there was none


def test_how_long_a_picture_was_seen_is_kept_until_its_answer_is_changed(village, family):
    prompt = TaskPrompt.objects.first()
    fields = {f"answer-{prompt.pk}": "4", f"glimpse-{prompt.pk}": "2041"}
    submission = sent(family, village.aisha, **fields)
    assert submission.answers.get().glimpse == 2041
    more = f"/sent/{submission.token}/more/"
    family.post(more, form(**fields))
    assert submission.answers.get().glimpse == 2041
    family.post(more, form(**{**fields, f"answer-{prompt.pk}": "5"}))
    assert (submission.answers.get().text, submission.answers.get().glimpse) == ("5", None)


@pytest.mark.parametrize("time", ["", "0", "-5", "two", "1e3", "9" * 30, "²"])
def test_what_is_no_time_is_not_kept_as_one_and_costs_no_answer(village, family, time):
    prompt = TaskPrompt.objects.first()
    fields = {f"answer-{prompt.pk}": "4", f"glimpse-{prompt.pk}": time}
    assert sent(family, village.aisha, **fields).answers.get().glimpse is None


def test_what_was_once_said_of_a_whole_day_is_said_of_each_part_that_was_answered(village, plan):
    work = make_submission(village)
    silent = make_submission(village)
    Submission.objects.filter(pk=work.pk).update(help="a little")
    for one in (work, silent):
        Answer.objects.create(submission=one, prompt=TaskPrompt.objects.first(), text="4")
    carry_over = import_module("evidence.migrations.0008_help_and_glimpse_of_an_answer").carry_over
    carry_over(apps, SimpleNamespace(connection=connection))
    assert work.answers.get().help == "a little"
    assert silent.answers.get().help == ""


def test_stored_words_that_were_the_usual_ones_are_renewed_and_a_teachers_own_stay(plan):
    module = import_module("tasks.migrations.0004_words_that_ask_for_less")
    [(before, now)] = module.SAY.items()
    task = plan.tasks.get()
    for kept, then in ((before, now), (f"{before} Slowly.", f"{before} Slowly.")):
        Task.objects.filter(pk=task.pk).update(say=kept)
        module.reword(apps, SimpleNamespace(connection=connection))
        task.refresh_from_db()
        assert task.say == then
    assert now in {kind.say for kind in EVERY_KIND.values()}
    assert set(module.WORDS.values()) == {what_to_do("try_at_home", "doubling")}
