"""How common each mistake is in a school is found from its answers alone."""

import pytest

from tasks.numberwork import KINDS
from tasks.numberwork.mistakes.model import PLAIN
from tasks.numberwork.mistakes.shares import assumed, learn
from tasks.numberwork.mistakes.spotting import spot_mistakes, weighed
from tasks.numberwork.pool import NONE
from tests.tasks.numberwork import honest_class
from tests.tasks.numberwork.honest_class import children

DOUBLED, SELF = ("halving", "doubled"), ("halving", "said the number itself")


def sets(number: int, own: dict[str, float], seed: int = 1) -> list:
    """Make up a class in which each sort of *own*, a truth or a mistake of halving, has a share."""
    found = []
    for sort, share in own.items():
        steady = sort in KINDS["halving"].mistakes
        mixture = {honest_class.CAREFUL if steady else sort: 1.0}
        for child in children("halving", 20, 8, round(number * share), seed, mixture):
            answers = [
                prompt.mistakes.get(sort, prompt.answer) if steady else answer
                for prompt, answer in zip(child.prompts, child.answers, strict=True)
            ]
            found.append(weighed(child.prompts, answers))
    return found


OWN = {honest_class.CAREFUL: 0.6, honest_class.GUESSES: 0.1, "doubled": 0.25, SELF[1]: 0.05}


@pytest.mark.parametrize("name", list(KINDS))
def test_what_is_assumed_adds_up(name):
    assert sum(assumed([name]).values()) == pytest.approx(1)
    assert sum(assumed([name, "adding"]).values()) == pytest.approx(1)


def test_nothing_answered_leaves_what_was_assumed():
    for name, share in learn("halving", []).items():
        assert share.found == pytest.approx(assumed(["halving"])[name])
        assert share.low < share.found < share.high


def test_a_mistake_common_in_a_school_is_found_to_be_common():
    found = learn("halving", sets(1000, OWN))
    assert found[DOUBLED].found == pytest.approx(0.25, abs=0.03)
    assert found[DOUBLED].low < 0.25 < found[DOUBLED].high
    assert found[SELF].low < 0.06 and found[SELF].high > 0.05
    assert found[NONE].found == pytest.approx(0.6, abs=0.07)
    assert found["halving", "took two away"].found < 0.015
    # Halves within 20 cannot show it, so nothing is learnt of it.
    unseen = found["halving", "halved again"]
    assert unseen.found == pytest.approx(unseen.assumed, abs=0.01)
    assert sum(share.found for share in found.values()) == pytest.approx(1)


def test_a_few_sets_change_little_and_are_said_to_be_less_sure():
    few, many = learn("halving", sets(20, OWN)), learn("halving", sets(1000, OWN))
    before = few[DOUBLED].assumed
    assert abs(few[DOUBLED].found - before) < abs(many[DOUBLED].found - before)
    assert few[DOUBLED].high - few[DOUBLED].low > 2 * (many[DOUBLED].high - many[DOUBLED].low)


def test_nine_in_ten_of_what_is_said_to_lie_between_two_shares_does():
    held = []
    for seed in range(12):
        found = learn("halving", sets(300, OWN, seed))
        for name, true in ((DOUBLED, 0.25), (SELF, 0.05), (("halving", "took two away"), 0.0)):
            held.append(found[name].low - 0.01 <= true <= found[name].high)
    assert sum(held) >= 0.8 * len(held)


def test_what_a_school_has_learnt_is_reckoned_with():
    learnt = {name: share.found for name, share in learn("halving", sets(1000, OWN)).items()}
    [child] = children("halving", 20, 4, 1, 5, {honest_class.CAREFUL: 1.0})
    answers = [prompt.mistakes.get("doubled", prompt.answer) for prompt in child.prompts[:2]]
    usual = spot_mistakes(child.prompts[:2], answers)
    here = spot_mistakes(child.prompts[:2], answers, learnt)
    assert chance(here, "doubled") > chance(usual, "doubled")
    assert set(PLAIN) >= {name for name in learnt if isinstance(name, str)}


def chance(findings, mistake: str) -> float:
    """Return how probable a mistake is said to be."""
    return next(one.probability for one in findings if one.mistake == mistake)
