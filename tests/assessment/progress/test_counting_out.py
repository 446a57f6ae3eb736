"""A child's page says up to which number things are counted out, and from how much."""

import pytest

from evidence.models import Answer
from tasks.models import TaskPrompt
from tests.assessment.builders import send, set_day

pytestmark = pytest.mark.django_db


def counted(village, asked, signed_in) -> str:
    """Have Aisha count out numbers, each answered as given, and return what her page says."""
    plan = set_day(village.robins, kinds=("halving",))
    work = send(village.aisha, village.first_home, plan)
    task = plan.tasks.get()
    task.kind = "count-out"
    task.save()
    first = task.prompts.first()
    for place, (number, answered) in enumerate(asked):
        data = {**first.data, "kind": "count-out", "form": "count out", "answer": number}
        data |= {"numbers": [number], "mistakes": {}, "choices": [], "fact": str(number)}
        row = TaskPrompt.objects.create(task=task, position=50 + place, data=data)
        Answer.objects.create(submission=work, prompt=row, text=str(answered))
    page = signed_in("teacher").get(f"/children/{village.aisha.pk}/")
    return page.context["story"].counting_out


def test_the_number_how_sure_and_from_how_much_are_said(village, signed_in):
    asked = [(2, 2), (3, 3), (4, 4), (6, 6), (8, 8)] * 3
    said = counted(village, asked, signed_in)
    assert said == (
        "Counts things out reliably up to 8: that is sure. "
        "15 of 15 times it was the number asked for."
    )


def test_small_numbers_alone_are_said_up_to_there(village, signed_in):
    asked = [(1, 1), (2, 2), (3, 5), (4, 3), (5, 7), (6, 4)] * 3
    said = counted(village, asked, signed_in)
    assert said.startswith("Counts things out reliably up to 2: that is")


def test_too_little_is_not_yet_known(village, signed_in):
    said = counted(village, [(3, 3), (4, 4)], signed_in)
    assert said.startswith("Not yet known: ask for small and larger numbers")
    assert said.endswith("2 of 2 times it was the number asked for.")


def test_nothing_is_said_where_it_was_never_asked(village, signed_in):
    assert counted(village, [], signed_in) == ""
