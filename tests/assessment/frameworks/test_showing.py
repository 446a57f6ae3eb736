"""No goal is suggested beyond what was seen: the rule itself, and over every kind there is."""

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assessment.frameworks import all_frameworks, framework_by_id
from assessment.frameworks.showing.asked import WAYS, Asked
from assessment.frameworks.showing.rule import (
    INDEPENDENTLY,
    NOT_YET,
    WITH_SUPPORT,
    Bar,
    suggest,
)
from assessment.frameworks.showing.work import ALONE, HELP, NOT_SAID, Work
from assessment.looks.suggestions import work_of
from tasks.numberwork import DEPTHS, EVERY_KIND
from tasks.numberwork.showing.facts import facts_of_form
from tasks.numberwork.showing.seen import GIVES, read_seen
from tasks.numberwork.showing.seen import WAYS as WAYS_OF_WORK

RANK = {"": 0, NOT_YET: 0, WITH_SUPPORT: 1, INDEPENDENTLY: 2}
MORE_HELP = {ALONE: 0, "a little": 1, "together": 1, NOT_SAID: 1}
EVERYTHING = (*GIVES, "heard to 200")
SEEN = st.frozensets(st.sampled_from(WAYS))
WORK = st.builds(
    lambda asked, wrong, **more: Work(asked=asked, right=max(0, asked - wrong), **more),
    asked=st.integers(1, 8),
    wrong=st.integers(0, 8),
    kind=st.just("sums"),
    form=st.sampled_from(["", "other"]),
    reach=st.sampled_from([3, 5, 10, 20, 50]),
    help=st.sampled_from(HELP),
    ways=SEEN,
    heard_to=st.integers(0, 60),
    needs=SEEN,
    printed=st.booleans(),
    countable=st.booleans(),
    together=st.booleans(),
    options=st.sampled_from([0, 2, 3]),
    further=st.booleans(),
    known=st.booleans(),
    seen=st.booleans(),
)
ASKED = st.builds(
    Asked,
    shown_by=st.sampled_from([(), ("sums",), ("sums:other",)]),
    reach=st.sampled_from([0, 5, 10]),
    most=st.sampled_from([0, 10, 20]),
    heard_to=st.sampled_from([0, 21]),
    without_aids=st.booleans(),
    seen=SEEN.map(tuple),
    seen_alone=SEEN.map(tuple),
)


def rank(asked, works):
    """Return how much is claimed: 0 nothing, 1 with support, 2 independently."""
    return RANK[suggest(asked, ["sums"], works).how]


def less(work, **changes):
    """Return *work* with these fields changed."""
    values = {name: getattr(work, name) for name in work.__dataclass_fields__}
    return Work(**{**values, **changes})


def poorer(work):
    """Yield *work* as it would be had a little less been seen, or been right, or without help."""
    for way in work.ways:
        yield less(work, ways=work.ways - {way})
    if work.right:
        yield less(work, right=work.right - 1)
    if work.heard_to:
        yield less(work, heard_to=work.heard_to - 1)
    if work.help == ALONE:
        yield from (less(work, help=given) for given in HELP if given != ALONE)
    yield less(work, seen=False)
    yield less(work, printed=True)
    yield less(work, countable=True)
    yield less(work, together=True)


@given(ASKED, st.lists(WORK, min_size=1, max_size=4))
def test_less_seen_never_suggests_more(asked, works):
    before = rank(asked, works)
    for place, work in enumerate(works):
        for changed in poorer(work):
            assert rank(asked, [*works[:place], changed, *works[place + 1 :]]) <= before, changed


@given(ASKED, st.lists(WORK, min_size=1, max_size=4))
def test_an_independent_showing_rests_on_three_right_answers_given_alone(asked, works):
    found = suggest(asked, ["sums"], works)
    alone = [one for one in works if one.help == ALONE and not one.together and not one.printed]
    if found.how == INDEPENDENTLY:
        assert sum(one.right for one in alone) >= 3
        assert found.why is None
    elif found.how == WITH_SUPPORT:
        assert sum(one.right for one in works if not one.printed) >= 2
        assert found.why
    elif not found.how:
        assert found.why


@given(ASKED, st.lists(WORK, min_size=1, max_size=4))
def test_the_order_of_the_work_changes_no_claim(asked, works):
    assert rank(asked, works) == rank(asked, works[::-1])


@pytest.mark.parametrize(
    ("options", "right", "asked", "how"),
    [
        (2, 3, 3, ""),  # one guesser in eight
        (2, 4, 4, INDEPENDENTLY),  # one in sixteen
        (2, 4, 5, ""),  # six in thirty-two
        (3, 2, 2, ""),  # one in nine
        (3, 3, 3, INDEPENDENTLY),
        (0, 3, 3, INDEPENDENTLY),
    ],
)
def test_a_choice_shows_nothing_where_a_guess_would_do_as_well(options, right, asked, how):
    """Source: the binomial distribution; one in ten is common practice, no source."""
    work = Work("sums", "", 10, asked, right, help=ALONE, options=options)
    found = suggest(Asked(), ["sums"], [work])
    assert found.how == how
    assert how or found.why == Bar.GUESSING


def test_two_pieces_of_work_that_are_alike_count_twice():
    work = Work("sums", "", 10, 2, 2, help=ALONE)
    assert suggest(Asked(), ["sums"], [work]).how == WITH_SUPPORT
    assert suggest(Asked(), ["sums"], [work, work]).how == INDEPENDENTLY


@pytest.mark.parametrize(
    ("changes", "how"),
    [
        ({}, NOT_YET),
        ({"reach": 20}, ""),  # harder than the goal asks
        ({"further": True}, ""),
        ({"asked": 2}, ""),
        ({"right": 2, "asked": 4}, ""),  # half right, but in numbers that are too small
        ({"printed": True}, ""),
        ({"help": "together"}, NOT_YET),
    ],
)
def test_not_yet_is_suggested_only_of_what_was_no_harder_than_the_goal(changes, how):
    values = {"kind": "sums", "form": "", "reach": 5, "asked": 4, "right": 0, "help": ALONE}
    found = suggest(Asked(reach=10), ["sums"], [Work(**{**values, **changes})])
    assert found.how == how


def test_a_goal_about_numbers_to_ten_is_not_shown_by_one_answer_beyond_five():
    asked = Asked(reach=10)
    small = Work("sums", "", 5, 4, 4, help=ALONE)
    assert suggest(asked, ["sums"], [small, Work("sums", "", 10, 1, 1, help=ALONE)]).how == ""
    assert suggest(asked, ["sums"], [small, Work("sums", "", 10, 2, 2, help=ALONE)]).how


def every_work(seen=EVERYTHING, help_given=ALONE, right=6):
    """Yield every set that can be asked, with how it is asked and what came of six of it."""
    for kind in EVERY_KIND.values():
        for within, depth, form in product(kind.ranges, DEPTHS, kind.forms):
            facts = facts_of_form(kind.name, within, depth, form)
            if facts:
                work = work_of(facts, 6, right, read_seen(seen), help_given)
                yield (kind.name, within, depth, form), work


def shown(code, framework="eyfs-elg-2021", **given_more):
    """Return how every set that can be asked shows a goal at most, by how it is asked."""
    goal = framework_by_id(framework).goal(code)
    found = {key: suggest(goal.asks, goal.kinds, [work]) for key, work in every_work(**given_more)}
    return {key: one.how for key, one in found.items() if one and one.how}


# Source of each: the early learning goals' own words (the statutory framework for the early years
# foundation stage, from September 2021), read as the strictest reader would.


def test_counting_beyond_20_is_shown_only_by_a_count_that_was_heard_past_20():
    """Source: "Verbally count beyond 20"."""
    assert shown("ELG-NP-1")
    for heard in ("heard to 20", "clip", "heard", "typed"):
        assert not shown("ELG-NP-1", seen=[heard, "typed"]), heard
    for (kind, within, _depth, form), how in shown("ELG-NP-1", seen=["heard past 20"]).items():
        assert kind in ("counting-aloud-in-ones", "counting-on-in-ones")
        assert within > 20 and form != "back"
        assert how != INDEPENDENTLY or kind == "counting-on-in-ones"


def test_subitising_is_shown_only_from_a_glimpse_and_to_five_only_where_five_is_asked():
    """Source: "Subitise (recognise quantities without counting) up to 5"."""
    with_all = shown("ELG-NUM-2")
    assert {key[2] for key in with_all} == {"core", "challenge"}  # easier: to three
    assert {key[0] for key in with_all} == {"subitising"}
    assert not shown("ELG-NUM-2", seen=[word for word in EVERYTHING if word != "glimpsed"])


def test_recall_without_aids_is_never_shown_where_a_number_line_or_dots_are_drawn():
    """Source: "Automatically recall (without reference to rhymes, counting or other aids)"."""
    for (kind, within, depth, form), _how in shown("ELG-NUM-3").items():
        assert within <= 10
        for ask in EVERY_KIND[kind].asks(within, depth):
            if ask.form == form:
                picture = EVERY_KIND[kind].picture(ask, depth, 0)
                assert picture is None or type(picture).__name__ == "PartWhole"
    typed = shown("ELG-NUM-3", seen=["typed"])
    assert set(typed.values()) == {WITH_SUPPORT}  # a typed answer does not say how it was found


def test_where_it_is_said_together_nothing_is_ever_shown_alone():
    together = [kind.name for kind in EVERY_KIND.values() if kind.together]
    together += [kind.name for kind in EVERY_KIND.values() if "with me" in kind.say]
    for framework in all_frameworks():
        for goal in framework.goals:
            for (kind, *_rest), how in shown(goal.code, framework.id).items():
                assert how != INDEPENDENTLY or kind not in together


@pytest.mark.parametrize("help_given", [given for given in HELP if given != ALONE])
def test_with_any_help_or_no_word_of_it_nothing_is_ever_shown_alone(help_given):
    for framework in all_frameworks():
        for goal in framework.goals:
            hows = shown(goal.code, framework.id, help_given=help_given).values()
            assert INDEPENDENTLY not in hows, goal.code


def test_one_right_answer_of_any_kind_shows_no_goal():
    for key, work in every_work():
        one = less(work, asked=1, right=1)
        for framework in all_frameworks():
            for goal in framework.goals:
                found = suggest(goal.asks, goal.kinds, [one])
                assert not found or not found.how, (key, goal.code)


def test_support_in_the_picture_shows_no_goal():
    printed = [(key, work) for key, work in every_work() if work.printed]
    assert {key[0] for key, _work in printed} >= {"number-bonds", "doubling", "halving", "one-more"}
    for _key, work in printed:
        for right in (0, 6):
            for framework in all_frameworks():
                for goal in framework.goals:
                    found = suggest(goal.asks, goal.kinds, [less(work, right=right)])
                    assert not found or not found.how


def test_what_nobody_saw_shows_no_goal():
    for framework in all_frameworks():
        for goal in framework.goals:
            assert not shown(goal.code, framework.id, seen=[]), goal.code


def test_every_goal_with_kinds_can_be_shown_by_something():
    for framework in all_frameworks():
        for goal in framework.goals:
            if goal.kinds:
                assert INDEPENDENTLY in shown(goal.code, framework.id).values() or (
                    goal.asks.shown_by == ("number-of-the-day-shown",)
                ), goal.code


def test_over_every_kind_less_seen_never_suggests_more():
    goals = framework_by_id("eyfs-elg-2021").goals
    for _key, work in every_work():
        for right in range(7):
            whole = less(work, right=right)
            for goal in goals:
                found = suggest(goal.asks, goal.kinds, [whole])
                for changed in poorer(whole) if found else ():
                    then = suggest(goal.asks, goal.kinds, [changed])
                    assert RANK[then.how] <= RANK[found.how]


def test_the_ways_of_seeing_are_those_of_the_number_work():
    assert set(WAYS) == set(WAYS_OF_WORK)


@pytest.mark.parametrize(
    ("data", "words"),
    [
        ({"far": 5}, "far"),
        ({"shown_by": ["moons:full"]}, "moons"),
        ({"reach": "5"}, "reach"),
        ({"reach": -1}, "reach"),
        ({"seen": "heard"}, "seen"),
        ({"seen_alone": ["smelt"]}, "smelt"),
        ({"without_aids": 1}, "without_aids"),
    ],
)
def test_what_a_goal_asks_is_refused_by_its_field(data, words):
    with pytest.raises(ValueError, match=words):
        Asked.read(data)


def test_what_a_goal_asks_is_kept_whole():
    for framework in all_frameworks():
        for goal in framework.goals:
            assert Asked.read(goal.asks.data()) == goal.asks
