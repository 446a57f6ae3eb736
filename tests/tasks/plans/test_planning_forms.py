"""What planning forms refuse, and that they say what to do."""

import pytest

from tasks.models import Task
from tasks.numberwork import KINDS
from tasks.plans.forms.planning import ChoiceForm, WordingForm
from tasks.plans.forms.questions import PartForm
from tasks.plans.prompt_selection import Choice
from tests.village import Village

GOOD = {"kind": "doubling", "within": "10", "count": "3", "depth": "core"}


def errors(**changed: str) -> dict[str, list[str]]:
    return ChoiceForm(GOOD | changed).errors


def test_a_good_choice_is_taken_as_it_is():
    form = ChoiceForm(GOOD)

    assert form.is_valid()
    assert (form.choice().kind, form.choice().within, form.choice().count) == ("doubling", 10, 3)


def test_a_range_the_kind_does_not_know_is_refused_with_those_it_knows():
    (text,) = errors(within="200")["within"]

    known = KINDS["doubling"].ranges
    assert text.startswith(f"“Doubling” goes up to {known[0]}, ")
    assert text.endswith(f" or {known[-1]}. Choose one of these.")


def test_more_prompts_than_there_are_is_refused_with_how_many_there_are():
    (text,) = errors(within="5", count="12", depth="with support")["count"]

    assert text.startswith("There are only ")
    assert text.endswith("Ask for that many or fewer.")


@pytest.mark.parametrize("count", ["0", "13", "-1", "many", ""])
def test_how_many_is_a_whole_number_from_1_to_12(count: str):
    assert "count" in errors(count=count)


def test_an_unknown_kind_is_refused():
    assert "kind" in errors(kind="long-division")


def test_a_part_is_for_a_group_of_the_same_class_only(village: Village):
    other = village.wrens.groups.create(name="Pears")

    def form(group: object) -> PartForm:
        fields = GOOD | {"part": "main_task", "group": group}
        return PartForm(fields, school_class=village.robins)

    assert form(village.bens_group.pk).is_valid()
    assert "group" in form(other.pk).errors


def test_words_longer_than_their_place_are_refused():
    long = {"words": "", "fetch": "x" * 301, "say": "", "caution": ""}
    form = WordingForm(long, instance=Task(kind="doubling"))

    assert list(form.errors) == ["fetch"]


@pytest.mark.parametrize(
    ("kind", "number", "said"),
    [
        ("number-of-the-day", "11", "Numbers go up to 10 here."),
        ("number-of-the-day", "0", "greater than or equal to 1"),
        ("halving", "8", "“Halving” is not about one number. Leave this empty."),
    ],
)
def test_a_number_that_cannot_be_chosen_says_why(kind: str, number: str, said: str):
    form = ChoiceForm({"kind": kind, "within": 10, "count": 2, "depth": "core", "number": number})

    assert said in form.errors["number"][0]


def test_more_prompts_than_there_are_about_the_chosen_number_are_refused():
    asked = {"kind": "number-of-the-day", "within": 10, "depth": "with support", "number": 2}
    form = ChoiceForm({**asked, "count": 12})

    assert "There are only 4 of these." in form.errors["count"][0]
    enough = ChoiceForm({**asked, "count": 4})
    assert enough.is_valid()
    assert enough.choice() == Choice("number-of-the-day", 10, 4, "with support", 2)
