"""Every mistake has a next step for the teacher, and none is written for a mistake there is not."""

from tasks.numberwork import KINDS
from tasks.numberwork.mistakes.next_steps import NEXT_STEPS


def test_every_mistake_has_a_next_step_and_no_other_has():
    named = {mistake for kind in KINDS.values() for mistake in kind.mistakes}
    assert set(NEXT_STEPS) == named
