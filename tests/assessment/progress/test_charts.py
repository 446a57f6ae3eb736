"""Charts: lengths are true, words are safe, and nothing is told by colour alone."""

from defusedxml import ElementTree

from assessment.charts import FILLINGS, MARKS, mark, stacks
from assessment.insight.taking_part import Part, drawn_as

SVG = "{http://www.w3.org/2000/svg}"
WEEK = [[("sent", 5), ("could-not", 1), ("silent", 4)], [("sent", 10)], []]


def boxes(drawing, name, side):
    return [
        float(mark.get(side))
        for mark in ElementTree.fromstring(drawing).iter(f"{SVG}rect")
        if name in mark.get("class", "").split()
    ]


def words(drawing):
    return [mark.text for mark in ElementTree.fromstring(drawing).iter(f"{SVG}text")]


def test_columns_are_as_high_as_their_parts_on_one_scale():
    drawing = stacks("Taking part", [WEEK], ["1 Sep"])
    half, whole = boxes(drawing, "sent", "height")
    assert half * 2 == whole
    assert boxes(drawing, "could-not", "height") == [whole / 10]


def test_the_parts_of_a_column_stand_on_each_other():
    drawing = stacks("Taking part", [WEEK], ["1 Sep"])
    top = boxes(drawing, "sent", "y")[0]
    could_not = boxes(drawing, "could-not", "y")[0]
    assert could_not + boxes(drawing, "could-not", "height")[0] == top
    assert boxes(drawing, "silent", "y") == [could_not - boxes(drawing, "silent", "height")[0]]


def test_what_became_of_a_day_is_told_by_shape_and_word_and_never_by_colour_alone():
    drawn = {part: mark(drawn_as(part), part.value) for part in Part}
    assert len({MARKS[drawn_as(part)] for part in Part}) == len(Part)
    assert all(f'aria-label="{part.value}"' in svg for part, svg in drawn.items())
    assert len(set(FILLINGS.values())) == len(FILLINGS)


def test_every_group_says_its_name_beside_the_scale():
    assert {"1 Sep", "10"} <= set(words(stacks("Taking part", [WEEK], ["1 Sep"])))


NASTY = '</svg><script>alert("1")</script>'


def test_words_cannot_break_out_of_the_drawing():
    drawing = stacks(NASTY, [[[(NASTY, 1)]]], [NASTY])
    assert "<script" not in drawing
    assert ElementTree.fromstring(drawing).get("aria-label") == NASTY


def test_nothing_at_all_and_only_noughts_are_drawn_without_a_fault():
    assert boxes(stacks("Empty", [], []), "part", "height") == []
    assert boxes(stacks("Noughts", [[[("sent", 0)], []]], ["1 Sep"]), "part", "height") == [0]


def test_no_style_stands_in_the_drawing():
    drawing = stacks("Taking part", [WEEK], ["1 Sep"])
    assert "style=" not in drawing and "<style" not in drawing
