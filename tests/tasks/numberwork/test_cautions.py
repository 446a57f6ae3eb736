"""The one table of things and cautions: no thing is fetched or used without its line."""

import re

import pytest

from tasks.numberwork import EVERY_KIND
from tasks.numberwork.cautions import CAUTIONS, FORMER, THINGS, cautions_for, things_in
from tasks.numberwork.kinds.counting_amounts import COUNTED
from tasks.numberwork.kinds.patterns import THINGS_USED
from tasks.numberwork.kinds.sharing import SHARED
from tasks.numberwork.kinds.story_problems import STOCK

# Words of the things to fetch that name no thing: a new word belongs here or into the table.
NO_THING = set(
    re.findall(
        "[a-z]+",
        """
        a act adult an and as at back be behind both by clap claps colours cover down draw drawn
        drop each edge equal finger fingers five fold for from hand handful hands heap hundred
        in into it laid lay line lines longer look lots made more number numbers of off old on
        one or out pairs put row rows seven share side sides sign some spot square squared
        squares stand step story tally tea ten that the things to two under up upside washing
        with your
        """,
    )
)
IDEAS = sorted({idea for kind in EVERY_KIND.values() for idea in kind.fetch})
USED = sorted({*COUNTED, *THINGS_USED, *SHARED, *(thing for thing, _place in STOCK)})
ORDER = re.compile(
    r"^(?:Keep|Cut|Give|Check|Never|If|Stay|Only an adult|Put|Take|Use|Sit|Touch|Hold|Build|Clear"
    r"|Count)\b"
)


@pytest.mark.parametrize("idea", IDEAS)
def test_no_thing_is_fetched_without_its_line(idea: str):
    left = idea.casefold()
    for thing in sorted(things_in(idea), key=len, reverse=True):
        left = re.sub(rf"\b{thing}(?:s|es)?\b", " ", left)
    assert set(re.findall(r"[a-z]+", left)) - NO_THING == set()
    if set(re.findall(r"[a-z]+", idea)) - NO_THING:
        assert cautions_for(idea)


@pytest.mark.parametrize("thing", USED)
def test_no_thing_of_a_question_is_without_its_line(thing: str):
    assert cautions_for(f"five {thing}s")


def test_a_thing_nobody_has_thought_of_is_noticed():
    with pytest.raises(AssertionError):
        test_no_thing_is_fetched_without_its_line("two wugs")


def test_every_thing_has_cautions_of_the_table_and_every_caution_is_called_for():
    called = {key for keys in THINGS.values() for key in keys}
    assert called == set(CAUTIONS)
    assert all(keys for keys in THINGS.values())


@pytest.mark.parametrize("key", CAUTIONS)
def test_a_caution_is_an_order_with_a_source(key: str):
    for sentence in re.split(r"(?<=\.)\s+", CAUTIONS[key].order):
        assert ORDER.match(sentence), sentence
    assert CAUTIONS[key].source
    assert CAUTIONS[key].covered_by


@pytest.mark.parametrize(
    ("things", "called"),
    [
        ("Cut the apple in two.", {"cut", "food"}),
        ("scissors and paper", {"cut", "pins"}),
        ("Share ten grapes.", {"small", "quarters", "food"}),
        ("a slice of toast", {"cut", "food"}),
        ("BUTTONS or beads", {"small"}),
        ("a torch", {"battery"}),
        ("cups in the bath", {"glass", "water"}),
        ("Bake twelve biscuits.", {"heat", "food"}),
        ("spoons from the drawer", {"knives"}),
        ("socks in a bag", {"floor", "bags"}),
        ("pegs on a washing line", {"small", "doors", "cords"}),
        ("three tins", {"tins"}),
        ("a finger in flour", {"flour"}),
        ("a few nuts", {"small", "quarters", "food"}),
    ],
)
def test_a_thing_that_needs_care_brings_its_cautions(things: str, called: set[str]):
    assert cautions_for(things) == [one for key, one in CAUTIONS.items() if key in called]


@pytest.mark.parametrize("things", ["", "shortcut", "hotel", "fingers", "spooner", "tinsel"])
def test_words_that_name_nothing_bring_none(things: str):
    assert cautions_for(things) == []


def test_what_the_child_itself_could_choke_on_is_said_of_the_child():
    assert "your child can choke" in CAUTIONS["small"].order
    assert not any("choke" in sentence for sentence in FORMER)
