"""A teacher picks which questions of a kind are asked, and new questions keep the choice."""

import pytest
from django.urls import reverse

from tasks.models import Task
from tasks.numberwork import DEPTHS, KINDS
from tasks.numberwork.pool import pool_of
from tasks.numberwork.sequences.facts import MOST, facts_to_choose, facts_within, how_many_of
from tasks.numberwork.sequences.only import Only, size
from tasks.plans.forms.questions import QuestionsForm
from tasks.plans.planning import redraw_part
from tasks.plans.prompt_selection import Choice
from tests.tasks.builders import drafted, drafted_week, own_part, seen
from tests.village import MONDAY, Village

GOOD = {"kind": "doubling", "within": "10", "count": "2", "depth": "core"}


def facts_of(task: Task) -> set[str]:
    return {row.data["fact"] for row in task.prompts.all()}


def change(client, task: Task, **fields: object) -> str:
    address = reverse("tasks:part-change", args=[task.day_plan.school_class_id, MONDAY, task.pk])
    version = task.day_plan.version
    response = client.post(f"{address}?version={version}", GOOD | fields, follow=True)
    assert response.status_code == 200
    return response.content.decode()


@pytest.mark.parametrize(
    ("kind", "fact", "name"),
    [
        ("doubling", "4", "double 4"),
        ("halving", "8", "half of 8"),
        ("adding", "4,4", "4 + 4"),
        ("taking-away", "8,3", "8 − 3"),
        ("number-bonds", "2,8,10", "2 + □ = 10"),
        ("odd-or-even", "7", "7"),
    ],
)
def test_a_fact_is_named_as_the_sum_or_number_it_is(kind: str, fact: str, name: str):
    assert facts_to_choose(kind, 10, "core")[fact] == name


@pytest.mark.parametrize("kind", sorted(KINDS))
def test_the_facts_of_a_kind_are_its_own_each_with_another_name_or_none_is_offered(kind: str):
    for within in KINDS[kind].ranges:
        for depth in DEPTHS:
            named = facts_to_choose(kind, within, depth)
            own = {ask.fact for ask in pool_of(kind, within, depth).asks}
            assert set(named) in (own, set())
            assert len(set(named.values())) == len(named) <= MOST


def test_numbers_from_one_to_another_leave_the_facts_that_have_them():
    facts = facts_within("doubling", 20, "core", 6, 10)

    assert facts == ("3", "4", "5")
    asks = [ask for ask in pool_of("doubling", 20, "core").asks if ask.fact in facts]
    assert {size(ask) for ask in asks} == {6, 8, 10}
    assert how_many_of("doubling", 20, Only(facts=("3",))) >= 3


def test_what_is_ticked_is_asked_and_drawing_anew_keeps_it(village: Village, signed_in):
    task = drafted(village).tasks.get()

    change(signed_in("teacher"), task, facts=["4", "5"])

    held = Task.objects.get()
    assert facts_of(held) == {"4", "5"}
    for _again in range(3):
        redraw_part(held, seen(village, Task.objects.get().day_plan))
        assert facts_of(Task.objects.get()) <= {"4", "5"}


def test_from_and_to_leave_all_other_numbers_out_even_of_a_large_set(village: Village, signed_in):
    task = drafted(village).tasks.get()

    change(signed_in("teacher"), task, least="6", most="10", count="5")

    assert facts_of(Task.objects.get()) <= {"3", "4", "5"}
    assert Task.objects.get().count == 5


def test_an_empty_choice_means_all_of_them(village: Village, signed_in):
    task = drafted(village, choice=Choice("doubling", 10, 2, "core", only=Only((), ("4",)))).tasks
    change(signed_in("teacher"), task.get(), count="5")

    assert Only.read(Task.objects.get().only) == Only()
    assert len(facts_of(Task.objects.get())) > 2


@pytest.mark.parametrize(
    ("fields", "field", "said"),
    [
        ({"facts": ["4"], "count": "9"}, "count", "questions fit what is chosen under"),
        ({"facts": ["77"]}, "facts", "“77” is no question of this kind"),
        ({"least": "9", "most": "4"}, "most", "less than the number it goes from"),
        ({"least": "11"}, "count", "Only 0 questions fit"),
    ],
)
def test_too_few_to_fill_a_set_is_said_before_anything_is_saved(
    village: Village, signed_in, fields, field: str, said: str
):
    form = QuestionsForm(GOOD | fields)
    assert said in form.errors[field][0]

    task = drafted(village).tasks.get()
    before = facts_of(task)
    page = change(signed_in("teacher"), task, **fields)

    assert said in page
    assert facts_of(Task.objects.get()) == before


def test_a_drafted_day_keeps_its_step_where_the_choice_is_left_alone(village: Village, signed_in):
    sequence = drafted_week(village, "adding")
    task = own_part(sequence, MONDAY)
    shown = QuestionsForm(now=Choice.of(task))
    fields = {name: shown[name].value() for name in ("kind", "within", "depth", "least", "most")}
    fields = {name: value for name, value in fields.items() if value is not None}

    change(signed_in("teacher"), task, **fields, count="3")

    held = own_part(sequence, MONDAY)
    assert (held.count, Only.read(held.only)) == (3, Only.read(task.only))
    assert Only.read(held.only).most


def test_another_kind_begins_without_the_numbers_of_the_one_before(village: Village, signed_in):
    only = Only((), (), 0, 4)
    task = drafted(village, choice=Choice("doubling", 10, 2, "core", only=only)).tasks.get()

    change(signed_in("teacher"), task, kind="adding", most="4")

    assert Only.read(Task.objects.get().only) == Only()


def test_the_page_shows_the_choice_and_asks_for_the_questions_of_another_kind(
    village: Village, signed_in
):
    only = Only((), ("4",))
    task = drafted(village, choice=Choice("doubling", 10, 2, "core", only=only)).tasks.get()
    teacher = signed_in("teacher")
    where = reverse("tasks:part-change", args=[village.robins.pk, MONDAY, task.pk])
    page = teacher.get(where).content.decode()
    assert '<details class="which" open>' in page
    ticked = [tag for tag in page.split("<input")[1:] if "checked" in tag.split(">")[0]]
    assert [tag.split('value="')[1].split('"')[0] for tag in ticked] == ["4"]

    asked = "?kind=halving&within=20&depth=core"
    assert "half of 18" in teacher.get(where + asked).content.decode()
    for nonsense in ("?kind=x&within=y&depth=z", "?kind=sharing-equally&within=10&depth=core"):
        page = teacher.get(where + nonsense).content.decode()
        assert "no short names to tick" in page
