"""Story problems against the published table of situations.

Source: Common Core State Standards for Mathematics, Table 1, as transcribed from the
Massachusetts reprint (origin: NRC 2009, Box 2-4); its example numbers are 2, 3 and 5. Which four
situations are for kindergarten: the OA Progressions.
"""

import re

import pytest

from tasks.numberwork import KINDS, Prompt
from tasks.numberwork.kinds.story_problems import FIRST_FOUR, SITUATIONS
from tasks.numberwork.making import prompt_of
from tasks.numberwork.pool import pool_of
from tasks.numberwork.prompt import CHALLENGE, CORE, DEPTHS, WITH_SUPPORT

# The equation the table prints beside each situation: row, column, equation with ? for the unknown.
TABLE_1 = [
    ("add to", "result", "2 + 3 = ?"),
    ("add to", "change", "2 + ? = 5"),
    ("add to", "start", "? + 3 = 5"),
    ("take from", "result", "5 - 2 = ?"),
    ("take from", "change", "5 - ? = 3"),
    ("take from", "start", "? - 2 = 3"),
    ("put together", "total", "3 + 2 = ?"),
    ("put together", "addend", "3 + ? = 5"),
    ("put together", "both addends", "5 = ? + ?"),
    ("compare", "difference", "2 + ? = 5"),
    ("compare", "bigger", "2 + 3 = ?"),
    ("compare", "smaller", "? + 3 = 5"),
]
# The words that make each situation what it is, as the table's own stories have them.
WORDING = {
    "add to, result unknown": r"more .*How many .* now\?",
    "add to, change unknown": r"some more .*Now there .*How many did you put",
    "add to, start unknown": r"There are some .*more .*Now there .*before\?",
    "take from, result unknown": r"away\. How many .* left\?",
    "take from, change unknown": r"some away\. Now there .* left\. How many did you take\?",
    "take from, start unknown": r"There are some .* away\. Now there .* left\. .*before\?",
    "put together, total unknown": r" and .*altogether\?",
    "put together, one part unknown": r"the rest are .*How many are small\?",
    "put together, both parts unknown": r"How many go in one box and how many in the other\?",
    "compare, difference unknown, more": r"How many more .* than",
    "compare, difference unknown, fewer": r"How many fewer .* than",
    "compare, larger unknown, more": r"I have \w+ more .* than you\. You have .*do I have\?",
    "compare, larger unknown, fewer": r"You have \w+ fewer .*You have .*do I have\?",
    "compare, smaller unknown, more": r"I have \w+ more .* than you\. I have .*do you have\?",
    "compare, smaller unknown, fewer": r"You have \w+ fewer .*I have .*do you have\?",
}


def stories(depth: str, within: int = 5) -> list[Prompt]:
    """Make every story of a depth."""
    pool = pool_of("story-problems", within, depth)
    return [prompt_of(pool.kind, ask, within, depth) for ask in pool.asks]


def every_story() -> list[Prompt]:
    """Make every story within five."""
    return [story for depth in (CORE, CHALLENGE) for story in stories(depth)]


def test_all_twelve_cells_are_told_and_no_other():
    assert {situation.cell for situation in SITUATIONS.values()} == {row[:2] for row in TABLE_1}
    assert len({situation.cell for situation in SITUATIONS.values()}) == 12
    assert {story.form for story in every_story()} == set(SITUATIONS) == set(WORDING)


@pytest.mark.parametrize(("row", "column", "equation"), TABLE_1)
def test_a_story_with_the_tables_numbers_has_the_tables_answer(row, column, equation):
    numbers = [int(number) for number in re.findall(r"\d", equation)]
    forms = [form for form, situation in SITUATIONS.items() if situation.cell == (row, column)]
    assert forms
    for form in forms:
        told = [
            story
            for story in every_story()
            if story.form == form and sorted(story.numbers) == sorted(numbers)
        ]
        assert told, form
        for story in told:
            answers = [pair if isinstance(pair, tuple) else (pair,) for pair in story.right_answers]
            for answer in answers:
                assert _fits(equation, answer, story.numbers), (story.sentence, answer)


def _fits(equation: str, answer: tuple[int, ...], told: tuple[int, ...]) -> bool:
    """Put the answer into the equation, with the numbers told in either order."""
    orders = {told, told[::-1]}
    for order in orders:
        filled = equation
        for number in order:
            filled = re.sub(r"(?<!\[)\b\d\b(?!\])", f"[{number}]", filled, count=1)
        for number in answer:
            filled = filled.replace("?", f"[{number}]", 1)
        left, right = filled.replace("[", "").replace("]", "").split(" = ")
        if _sum(left) == _sum(right):
            return True
    return False


def _sum(side: str) -> int:
    return sum(int(term) for term in re.findall(r"-?\d+", side.replace("- ", "-")))


def test_each_story_says_what_its_situation_says():
    for story in every_story():
        assert re.search(WORDING[story.form], story.spoken), (story.form, story.spoken)


@pytest.mark.parametrize("whole", range(2, 11))
def test_both_parts_unknown_has_one_more_answer_than_the_number(whole):
    story = next(
        story
        for story in stories(CORE, 10)
        if story.form == "put together, both parts unknown" and story.numbers == (whole,)
    )
    assert len(story.answers) == len(set(story.answers)) == whole + 1
    assert {sum(pair) for pair in story.answers} == {whole}


def test_the_four_situations_of_kindergarten_come_first():
    kindergarten = {
        ("add to", "result"),
        ("take from", "result"),
        ("put together", "total"),
        ("put together", "both addends"),
    }
    assert {SITUATIONS[form].cell for form in FIRST_FOUR} == kindergarten
    assert {SITUATIONS[story.form].cell for story in stories(CORE)} == kindergarten
    assert {SITUATIONS[story.form].cell for story in stories(WITH_SUPPORT)} < kindergarten


def test_stories_keep_to_the_kitchen_and_to_no_food():
    """Common practice, no source: no story should make anyone eat, or need what is not there."""
    food = {"biscuit", "cake", "sweet", "grape", "nut", "egg", "bread", "apple", "carrot"}
    for depth in DEPTHS:
        for ask in KINDS["story-problems"].asks(5, depth):
            for variant in range(KINDS["story-problems"].variants):
                things = KINDS["story-problems"].things(ask, variant)
                assert not food & set(things)
