"""Cautions: said where they are due, and once, on the card of a day."""

import pytest

from tasks.cards.card import make_card
from tasks.cards.safety import due
from tasks.cards.wording import Wording
from tasks.models import Task
from tasks.plans.planning import reword_part
from tests.tasks.builders import drafted, seen
from tests.village import Village

pytestmark = pytest.mark.django_db


def reworded(village: Village, words: Wording) -> Task:
    """Return a task of today with these words of its teacher's."""
    plan = drafted(village)
    reword_part(plan.tasks.get(), words, seen(village, plan))
    return Task.objects.get(pk=plan.tasks.get().pk)


def test_a_fresh_part_has_no_caution_of_its_own_and_those_of_its_things(village: Village):
    task = drafted(village).tasks.get()

    assert task.caution == ""
    assert task.kind == "doubling"
    orders = [each.order for each in due(task)]
    assert "Use things that do not break. Keep glass away from your child." in orders
    assert "Clear the floor first so that nobody slips." in orders
    assert not any("stairs" in order for order in orders)


def test_what_the_teacher_says_comes_first_and_is_not_said_twice(village: Village):
    own = "Only an adult cuts."
    task = reworded(village, Wording("Cut the bread.", "bread", "Is it fair?", own))

    (part,) = make_card(task.day_plan, [task]).parts

    assert part.cautions[0] == ("caution", own)
    assert [icon for icon, _sentence in part.cautions] == ["caution", "food"]


def test_what_kinds_said_before_the_table_is_not_taken_for_a_teachers_words(village: Village):
    """Work that was set before holds the caution that its kind had then."""
    former = "Keep small things away from younger brothers and sisters. Mind the cat."
    task = reworded(village, Wording("Sort them.", "pegs", "Are they the same?", former))

    (part,) = make_card(task.day_plan, [task], "pl").parts

    assert part.cautions[0] == ("caution", "Mind the cat.")
    assert not any("younger brothers" in sentence for _icon, sentence in part.cautions)
    assert any("zadławić" in sentence for _icon, sentence in part.cautions)
