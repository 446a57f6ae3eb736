"""A teacher's own question as a family meets it and as its answer comes back to her."""

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import translation

from assessment.looks.marking import kinds_by_weight, marked_tasks
from assessment.looks.suggestions import works_of
from evidence.models import Answer
from tasks.cards.card import make_card
from tasks.data_export import of_school
from tasks.erasure import close
from tasks.models import OwnPrompt, Task, TaskPrompt
from tasks.numberwork import Prompt
from tasks.numberwork.by_hand.own import own_prompt
from tasks.plans import by_hand
from tasks.printing.of_plan import Readers, collect
from tests.assessment.builders import send
from tests.tasks.builders import DOUBLING, drafted, gone_out, seen
from tests.village import Village

HOW_MANY = own_prompt("Put 5 grapes on a plate. How many?", "plates", "5", "number", "5")
DRAW = own_prompt("Draw what you counted.")
BIGGER = own_prompt("Which is more?", "two-boxes", "7, 5", "choices", "left", "left, right")


@pytest.fixture
def day(village: Village) -> Task:
    """Let a day be out whose main task ends in three questions of the teacher's own."""
    today = village.school.today()
    plan = drafted(village, date=today, choice=DOUBLING)
    for prompt in (HOW_MANY, DRAW, BIGGER):
        plan.refresh_from_db()
        by_hand.add_own(plan.tasks.get(), prompt, None, seen(village, plan))
    plan.refresh_from_db()
    gone_out(plan)
    return Task.objects.get()


def row_of(prompt: Prompt) -> TaskPrompt:
    return next(row for row in TaskPrompt.objects.all() if row.sentence == prompt.sentence)


def answered(village: Village, day: Task):
    work = send(village.aisha, village.first_home, day.day_plan)
    for prompt, text in ((HOW_MANY, "4"), (DRAW, "five grapes"), (BIGGER, "left")):
        Answer.objects.create(submission=work, prompt=row_of(prompt), text=text)
    return work


def test_a_family_of_another_language_reads_it_as_written_and_marked(village: Village, day: Task):
    with translation.override("pl"):
        card = make_card(day.day_plan, [day], "pl")
    lines = card.parts[0].lines

    own = lines[-3]
    assert own.sentence == HOW_MANY.sentence
    assert own.lang == "en"
    assert "<title>" in own.picture
    assert HOW_MANY.picture.alt not in own.picture, "the picture is told in Polish"
    assert any(each.icon == "food" for each in card.safe), "grapes bring their caution"


def test_it_has_its_place_to_answer_in_the_walk_and_on_paper(village: Village, day: Task):
    client = Client()
    client.force_login(village.people["family"])
    where = reverse("evidence:send", args=[village.aisha.pk, day.day_plan.date])
    page = client.get(where).content.decode()

    field = f'name="answer-{row_of(HOW_MANY).pk}"'
    typed = page[page.index(field) :]
    assert 'inputmode="numeric"' in typed[: typed.index(">")]
    drawn = page[page.index(f'name="answer-{row_of(DRAW).pk}"') :]
    assert "numeric" not in drawn[: drawn.index(">")]
    assert f'name="answer-{row_of(BIGGER).pk}" value="left"' in page

    (pack,) = collect(Readers("Robins"), [day.day_plan])
    printed = pack.days[0].parts[0].lines[-3:]
    assert [line.sentence for line in printed] == [
        each.sentence for each in (HOW_MANY, DRAW, BIGGER)
    ]
    assert printed[0].picture == HOW_MANY.picture
    assert printed[2].choices == ("left", "right")


def test_its_answer_is_judged_and_says_nothing_by_itself(village: Village, day: Task):
    (marked,) = marked_tasks(answered(village, day))
    own = marked.prompts[-3:]

    assert [one.right for one in own] == [False, None, True]
    assert own[1].is_to_look_at
    assert not marked.is_unread
    assert marked.is_answered
    assert not marked.suggestions()
    assert not marked.could_show
    assert works_of([marked]) == []


def test_a_part_of_nothing_else_is_of_no_kind(village: Village, day: Task):
    day.prompts.filter(position__lt=3).delete()

    assert kinds_by_weight(marked_tasks(answered(village, day))) == []


def test_the_teacher_reads_what_is_not_checked_beside_the_others(village: Village, day: Task):
    work = answered(village, day)
    client = Client()
    client.force_login(village.people["teacher"])

    page = client.get(reverse("assessment:look", args=[work.token])).content.decode()

    assert "five grapes" in page
    assert "for you to look at" in page
    assert "cannot be marked" not in page


def test_it_is_in_the_copy_of_a_school_and_goes_with_it(village: Village, day: Task):
    teacher = village.people["teacher"]
    OwnPrompt.keep(village.school, teacher, DRAW, {"sentence": DRAW.sentence})
    plans, kept = of_school(village.school)

    assert DRAW.sentence in plans.rows[0]["parts"][0]["questions"]
    assert kept.rows == [
        {
            "made_by": teacher.name,
            "question": DRAW.sentence,
            "typed": {"sentence": DRAW.sentence},
        }
    ]
    close(village.school)
    assert not OwnPrompt.objects.exists()
