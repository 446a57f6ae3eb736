"""Charts: lengths are true, words are safe, and nothing is told by colour alone."""

from defusedxml import ElementTree

from assessment.charts import Bar, columns

SVG = "{http://www.w3.org/2000/svg}"


def boxes(drawing, name, side):
    return [
        float(mark.get(side))
        for mark in ElementTree.fromstring(drawing).iter(f"{SVG}rect")
        if mark.get("class") == name
    ]


def words(drawing):
    return [mark.text for mark in ElementTree.fromstring(drawing).iter(f"{SVG}text")]


def test_columns_are_as_high_as_their_values_on_one_scale():
    drawing = columns("Heard", [Bar("1 Sep", 5, 10), Bar("8 Sep", 10, 10), Bar("15 Sep", 0, 10)])
    high = boxes(drawing, "bar", "height")
    assert high[0] * 2 == high[1] == boxes(drawing, "whole", "height")[0]
    assert high[2] == 0


def test_every_bar_says_its_name_and_its_value():
    drawing = columns("Heard", [Bar("1 Sep", 5, 10), Bar("8 Sep", 7, 10)])
    assert {"1 Sep", "8 Sep", "5", "7"} <= set(words(drawing))


def test_words_cannot_break_out_of_the_drawing():
    nasty = '</svg><script>alert("1")</script>'
    drawing = columns(nasty, [Bar(nasty, 1)])
    assert "<script" not in drawing
    assert ElementTree.fromstring(drawing).get("aria-label") == nasty


def test_nothing_at_all_and_only_noughts_are_drawn_without_a_fault():
    assert boxes(columns("Empty", []), "bar", "height") == []
    assert len(boxes(columns("Noughts", [Bar("a", 0), Bar("b", 0, 0)]), "bar", "height")) == 2


def test_no_style_stands_in_the_drawing():
    drawing = columns("Heard", [Bar("a", 1, 2)])
    assert "style=" not in drawing and "<style" not in drawing
