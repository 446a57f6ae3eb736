"""What a question can show is read off the question itself: its numbers, picture and words."""

import pytest

from tasks.numberwork import DEPTHS, EVERY_KIND, KINDS, make_prompts
from tasks.numberwork.kind import Kind
from tasks.numberwork.pictures import NumberLine, Plates
from tasks.numberwork.prompt import Prompt
from tasks.numberwork.showing.facts import (
    RANGES,
    Facts,
    facts_of,
    facts_of_form,
    is_said_together,
)
from tasks.numberwork.showing.seen import Seen, read_seen
from tasks.numberwork.showing.table import SHOWS

ALL = [
    (kind, within, depth)
    for kind in KINDS.values()
    for within in kind.ranges
    for depth in DEPTHS
    if any(True for _ask in kind.asks(within, depth))
]


def prompts_of(kind, within, depth):
    """Give a few prompts of a kind, as many as there are up to six."""
    try:
        return make_prompts(kind.name, within, 6, 1, depth=depth)
    except ValueError:
        return make_prompts(kind.name, within, 1, 1, depth=depth)


def test_every_kind_says_what_it_can_show_and_nothing_else_does():
    assert SHOWS.keys() == EVERY_KIND.keys()


def test_the_table_names_only_forms_that_are_asked():
    for name, shows in SHOWS.items():
        assert shows.in_picture | shows.options.keys() <= EVERY_KIND[name].forms.keys(), name


def test_a_prompt_shows_no_more_than_the_set_it_is_from():
    for kind, within, depth in ALL:
        for prompt in prompts_of(kind, within, depth):
            one, whole = facts_of(prompt), facts_of_form(kind.name, within, depth, prompt.form)
            assert one.reach <= whole.reach
            assert one.needs == whole.needs and one.further == whole.further
            assert one.printed <= whole.printed and one.countable <= whole.countable
            assert one.options >= whole.options and one.together == whole.together


def test_the_range_is_the_least_that_holds_all_its_numbers():
    for kind, within, depth in ALL:
        for prompt in prompts_of(kind, within, depth):
            reach = facts_of(prompt).reach
            numbers = [*prompt.numbers, *([prompt.answer] if type(prompt.answer) is int else [])]
            assert reach in RANGES
            assert max(numbers, default=0) <= reach


@pytest.mark.parametrize(
    ("kind", "depth", "form", "within", "reach"),
    [
        ("subitising", "with support", "dice", 5, 3),
        ("subitising", "core", "dice", 5, 5),
        ("comparing", "core", "sets", 100, 10),
        ("comparing", "core", "more", 100, 100),
        ("counting-amounts", "core", "scattered", 20, 10),
        ("story-problems", "with support", "add to, result unknown", 20, 10),
        ("counting-aloud-in-ones", "with support", "on", 50, 20),
    ],
)
def test_a_form_reaches_as_far_as_it_is_asked(kind, depth, form, within, reach):
    assert facts_of_form(kind, within, depth, form).reach == reach


def test_a_number_line_with_its_jumps_is_support_at_every_depth():
    line = NumberLine(0, 10, marked=(3,), jumps=((3, 8),))
    prompt = Prompt("number-bonds", "3 + □ = 8", "", 5, (3, 8), line, {}, form="second part")
    assert facts_of(prompt).printed


def counted_off(prompt):
    """Tell whether the answer can be read or counted off the picture, by looking at it alone."""
    picture = prompt.picture
    if isinstance(picture, NumberLine):
        return bool(picture.jumps)
    if isinstance(picture, Plates):
        return not picture.loose
    name = type(picture).__name__
    if name == "TwoRows":
        return True
    return name == "NumeralTrace" or (name == "Counters" and bool(picture.crossed))


# The picture is what is asked about: how many rows and dots there are is to be found out.
THE_QUESTION = {"subitising", "counting-amounts"}


def test_where_the_answer_can_be_counted_off_the_picture_that_is_called_support():
    """Source: the pictures' own parts; common practice, no source, for what counts as support."""
    found = 0
    for kind, within, depth in ALL:
        for prompt in prompts_of(kind, within, depth):
            if kind.name not in THE_QUESTION and counted_off(prompt):
                assert facts_of(prompt).printed, (kind.name, depth, prompt.form)
                found += 1
    assert found > 100


def test_what_is_drawn_to_count_along_is_called_so():
    for kind, within, depth in ALL:
        for prompt in prompts_of(kind, within, depth):
            drawn = type(prompt.picture).__name__
            if drawn in ("NumberLine", "Counters", "TenFrame", "TwoRows", "Plates", "DiceDots"):
                assert facts_of(prompt).countable
            elif drawn in ("NoneType", "PartWhole"):
                assert not facts_of(prompt).countable


@pytest.mark.parametrize(
    ("say", "together"),
    [
        ("Say it with me. Point to each number.", True),
        ("Count them together, then stop.", True),
        ("Do it WITH ME", True),
        ("What comes next? How do you know?", False),
        ("How many altogether?", False),
        ("Put them together. How many?", False),
        ("Say how many. Put them together.", False),
        ("", False),
    ],
)
def test_words_that_have_an_adult_say_it_too_are_known(say, together):
    assert is_said_together(KINDS["adding"], say) is together


def test_a_teachers_own_words_count_in_place_of_the_kinds():
    prompt = make_prompts("adding", 10, 1, 1)[0]
    assert not facts_of(prompt).together
    assert facts_of(prompt, "Count with me.").together


def test_what_is_done_together_is_so_whatever_its_words():
    for kind in EVERY_KIND.values():
        assert isinstance(kind, Kind)
        assert is_said_together(kind, "What comes next?") is kind.together


def test_a_kind_that_is_gone_is_not_known_to_show_anything():
    gone = Prompt("moons", "how many moons?", "", 3, (), None, {})
    assert facts_of(gone) == Facts("moons", "", 3, known=False)


def test_what_is_not_asked_at_a_depth_has_no_facts():
    assert facts_of_form("number-bonds", 10, "with support", "taken away") is None


def test_what_was_seen_is_read_word_by_word():
    assert read_seen([]) == Seen(frozenset(), 0, anything=False)
    assert read_seen(["typed"]) == Seen()
    assert read_seen(["heard to 12", "heard past 20", "photo"]) == Seen(
        frozenset({"heard", "made", "written"}), 21
    )
    for word in ("heard to", "heard to many", "smelt", "Typed", ""):
        with pytest.raises(ValueError, match="seen"):
            read_seen([word])
