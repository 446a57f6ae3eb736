"""A school's own goals, from a table."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assessment.frameworks import FrameworkError, read_csv

TABLE = "code,strand,text,kinds\nA1,Number,Count to 10.,counting-on-in-ones subitising\n"


def test_a_table_becomes_goals_with_their_kinds():
    framework = read_csv(TABLE, name="our-school", title="Our goals")
    goal = framework.goals[0]
    assert (framework.id, framework.title) == ("our-school", "Our goals")
    assert (goal.code, goal.strand, goal.text) == ("A1", "Number", "Count to 10.")
    assert goal.kinds == ("counting-on-in-ones", "subitising")


@pytest.mark.parametrize("mark", [";", "\t"])
def test_a_spreadsheet_may_part_cells_its_own_way(mark):
    assert read_csv(TABLE.replace(",", mark)) == read_csv(TABLE)


def test_a_byte_order_mark_and_capital_headings_are_no_obstacle():
    table = TABLE.replace("code,strand", " Code ,STRAND").encode("utf-8-sig")
    assert read_csv(table) == read_csv("\ufeff" + TABLE) == read_csv(TABLE)


def test_columns_may_stand_in_any_order_with_others_between():
    table = 'Text,year,Code,strand\r\n"Say, in order, one to ten.",R,A1,Number\r\n\r\n'
    goal = read_csv(table).goals[0]
    assert (goal.code, goal.text, goal.kinds) == ("A1", "Say, in order, one to ten.", ())


def test_kinds_may_be_parted_by_bars_and_named_in_capitals():
    table = TABLE.replace("counting-on-in-ones subitising", "Halving | doubling|halving")
    assert read_csv(table).goals[0].kinds == ("halving", "doubling")


@pytest.mark.parametrize(
    ("table", "words"),
    [
        ("", "row 1, column code: missing"),
        ("code,text\nA1,Count.\n", "row 1, column strand: missing"),
        ("code,strand,text,Code\n", "row 1, column code: named twice"),
        ("code,strand,text\n", "row 2: no goals"),
        ("code,strand,text\nA1,Number,Count.\n\nA2,,Add.\n", "row 4, column strand: empty"),
        ("code,strand,text\nA1,Number\n", "row 2, column text: empty"),
        ("code,strand,text\nA1,N,C\nA1,N,D\n", "row 3, column code: A1 stands twice"),
        ("code,strand,text,kinds\nA1,N,C,sums\n", "row 2, column kinds: sums is no kind"),
        (f"code,strand,text\nA1,N,{'n' * 4001}\n", "row 2, column text: longer"),
        (b"code,strand,text\nA1,N,\xe9\n", "save it as CSV UTF-8"),
        ("code,strand,text\n" + f"A1,N,{'n' * 140_000}\n", "row 2: cannot be read"),
        ("x" * 5_000_001, "more than 5000000"),
        ("code,strand,text\n" + "".join(f"{n},N,C\n" for n in range(5001)), "row 5002"),
    ],
)
def test_a_table_that_cannot_be_used_is_refused_with_row_and_column(table, words):
    with pytest.raises(FrameworkError, match=words):
        read_csv(table)


@settings(deadline=None)
@given(st.text(max_size=200).map(lambda rows: f"code,strand,text,kinds\n{rows}"))
def test_whatever_a_table_holds_it_is_read_or_refused_and_never_breaks(table):
    try:
        framework = read_csv(table)
    except FrameworkError:
        return
    assert framework.goals
