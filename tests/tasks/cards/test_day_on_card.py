"""The card of a whole day: how long, what is enough, what is done together, fetched and heeded."""

import pytest
from django.urls import reverse

from tasks.cards.card import Card, make_card
from tasks.cards.safety import ALWAYS
from tasks.cards.wording import Wording
from tasks.models import DayPlan
from tasks.numberwork import KINDS
from tasks.plans import planning, setting
from tasks.plans.defaults import usual_day
from tasks.plans.prompt_selection import Choice
from tests.tasks.builders import drafted, empty_day, gone_out, seen
from tests.village import MONDAY, Village

pytestmark = pytest.mark.django_db
AS_IT_WAS = {
    "warm_up": Choice("counting-on-in-ones", 20, 3, "core"),
    "number_of_the_day": Choice("number-of-the-day", 10, 4, "core"),
    "quick_recall": Choice("number-bonds", 5, 4, "core"),
    "main_task": Choice("halving", 20, 5, "core"),
    "try_at_home": Choice("halving", 20, 2, "core"),
}


def day(village: Village, choices: dict[str, Choice] | None = None) -> DayPlan:
    """Draft a day, the usual one on halving if nothing else is given."""
    plan = empty_day(village)
    planning.draft_day(plan, choices or usual_day("halving", 20), seen(village, plan))
    return stored(village)


def stored(village: Village) -> DayPlan:
    return DayPlan.objects.get(school_class=village.robins, date=MONDAY)


def card_of(plan: DayPlan, language: str = "en") -> Card:
    """Return the card of *plan* for a child in no group."""
    return make_card(plan, plan.tasks.for_group(None).prefetch_related("prompts"), language)


def fields(plan: DayPlan, part: str) -> list[str]:
    """Return what the sending page calls the fields for the prompts of *part*."""
    return [f'"answer-{row.pk}"' for row in plan.tasks.get(part=part).prompts.all()]


def sending_page(village: Village, client) -> str:
    return client.get(reverse("evidence:send", args=[village.aisha.pk, MONDAY])).content.decode()


def test_the_main_task_comes_second_and_then_it_is_enough(village: Village):
    card = card_of(day(village))

    assert [(part.key, part.more) for part in card.parts] == [
        ("warm-up", False),
        ("main-task", False),
        ("number-of-the-day", True),
        ("quick-recall", True),
        ("try-at-home", True),
    ]


def test_there_is_nothing_to_type_where_a_part_is_done_together(village: Village):
    card = card_of(day(village))

    together = [part.key for part in card.parts if part.together]
    assert together == ["warm-up", "number-of-the-day"]
    for part in card.parts:
        assert all(bool(line.answer) is not part.together for line in part.lines)
        assert len(part.lines) == 1 or not part.together


@pytest.mark.parametrize("kind", ["halving", "doubling", "sharing-equally", "one-more"])
def test_a_usual_day_takes_about_ten_minutes(village: Village, kind: str):
    within = min(20, max(KINDS[kind].ranges))

    assert 6 <= card_of(day(village, usual_day(kind, within))).minutes <= 11


def test_a_day_of_eighteen_prompts_as_once_set_takes_longer_and_still_opens(
    village: Village, signed_in
):
    plan = gone_out(day(village, AS_IT_WAS))

    card = card_of(plan)

    assert card.minutes > 12
    assert not any(part.together for part in card.parts)
    family = signed_in("second home")
    assert family.get(reverse("tasks:card", args=[village.aisha.pk, MONDAY])).status_code == 200
    page = sending_page(village, family)
    assert all(field in page for field in fields(plan, "warm_up"))


def test_the_sending_page_asks_for_no_more_than_eight_answers(village: Village, signed_in):
    plan = gone_out(day(village))

    page = sending_page(village, signed_in("second home"))

    asked = {
        part.part: [f for f in fields(plan, part.part) if f in page] for part in plan.tasks.all()
    }
    assert 1 <= sum(map(len, asked.values())) <= 8
    assert not asked["warm_up"] and not asked["number_of_the_day"]


def test_what_to_have_ready_is_named_once_and_what_more_needs_apart(village: Village):
    card = card_of(day(village))

    assert [each.more for each in card.fetch] == sorted(each.more for each in card.fetch)
    (for_main,) = [each for each in card.fetch if not each.more]
    assert for_main.words == ", or ".join(KINDS["halving"].fetch)
    # What is tried at home goes with one of the things of the main task: it is not named again.
    ideas = [idea for each in card.fetch for idea in each.words.split(", or ")]
    assert len(ideas) == len(set(ideas))
    assert "paper and pencil" in ideas


def test_each_caution_stands_once_the_teachers_own_first_and_the_general_one_last(
    village: Village,
):
    plan = day(village)
    words = Wording("Cut a grape.", "grapes", "Fair?", "The blue plates break.")
    planning.reword_part(plan.tasks.get(part="main_task"), words, seen(village, plan))

    safe = [each.words for each in card_of(stored(village)).safe]

    assert safe[0] == "The blue plates break."
    assert safe[-1] == str(ALWAYS)
    assert len(safe) == len(set(safe))
    assert sum("small things" in words for words in safe) == 1
    assert any("Only an adult cuts" in words for words in safe)


def test_cautions_and_things_are_said_in_the_familys_language(village: Village):
    card = card_of(day(village), "pl")

    assert all(each.other_lang == "pl" for each in card.fetch)
    own = [each.words for each in card.safe if each.other_lang == "pl"]
    assert own and len(own) == len(set(own))


def test_a_card_without_things_to_fetch_has_no_list_of_them(village: Village):
    choice = Choice("counting-aloud-in-ones", 20, 1, "core")

    card = card_of(drafted(village, "warm_up", choice=choice))

    assert (card.fetch, len(card.safe)) == ([], 1)


def test_the_teachers_order_is_that_of_the_card_and_of_the_sending_page(
    village: Village, signed_in
):
    plan = gone_out(day(village))
    order = "quick_recall number_of_the_day enough main_task warm_up try_at_home"
    setting.arrange_day(plan, order, 12, seen(village, plan))

    card = card_of(stored(village))

    keys = [name.replace("_", "-") for name in order.split() if name != "enough"]
    assert [part.key for part in card.parts] == keys
    assert [part.more for part in card.parts] == [False, False, True, True, True]
    page = sending_page(village, signed_in("second home"))
    recall, main = fields(plan, "quick_recall")[0], fields(plan, "main_task")[0]
    assert page.index(recall) < page.index(main)
