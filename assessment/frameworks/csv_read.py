"""Reads a school's own goals from a table: columns code, strand, text and kinds."""

import csv
import io
from collections.abc import Iterator

from .framework import LONGEST_TEXT, MOST_GOALS, Framework, FrameworkError, Goal, strands_of
from .kinds import KINDS
from .plaintext import plain_text

MOST_LETTERS = 5_000_000
NEEDED = ("code", "strand", "text")
COLUMNS = (*NEEDED, "kinds")


def read_csv(text: str | bytes, name: str = "own-goals", title: str = "Our own goals") -> Framework:
    """Read goals from comma-, semicolon- or tab-separated *text* with a row of headings.

    Headings code, strand, text and (not needed) kinds may stand in any order and case;
    other columns are passed over. Kinds are parted by spaces, bars or commas.
    name and title become the framework's id and title.
    Raises FrameworkError naming the row, as a spreadsheet counts it, and the column.
    """
    lines = io.StringIO(_decoded(text), newline="")
    rows = csv.reader(lines, delimiter=_delimiter(lines.getvalue()))
    try:
        columns = _columns(next(rows, []))
        goals = _goals(rows, columns)
    except csv.Error as error:
        raise FrameworkError(f"row {rows.line_num}: cannot be read ({error}).") from error
    return Framework(
        id=name,
        title=title,
        publisher="",
        edition="",
        source="",
        licence="",
        notice="",
        stem="",
        levels=(),
        judged_by="goal",
        strands=strands_of(goals),
        goals=goals,
    )


def _decoded(text: str | bytes) -> str:
    if isinstance(text, bytes):
        try:
            text = text.decode("utf-8-sig")
        except UnicodeDecodeError as error:
            raise FrameworkError("the file: not UTF-8; save it as CSV UTF-8.") from error
    if len(text) > MOST_LETTERS:
        raise FrameworkError(f"the file: more than {MOST_LETTERS} letters; give fewer goals.")
    return text.removeprefix("\ufeff")


def _delimiter(text: str) -> str:
    heading = text.lstrip("\r\n").split("\n", 1)[0]
    return max(",;\t", key=heading.count)


def _columns(heading: list[str]) -> dict[str, int]:
    found = [cell.strip().lower() for cell in heading]
    for column in NEEDED:
        if column not in found:
            raise FrameworkError(
                f"row 1, column {column}: missing; the first row names the columns "
                "code, strand, text and kinds."
            )
    for column in COLUMNS:
        if found.count(column) > 1:
            raise FrameworkError(f"row 1, column {column}: named twice; keep one.")
    return {column: found.index(column) for column in COLUMNS if column in found}


def _goals(rows: Iterator[list[str]], columns: dict[str, int]) -> tuple[Goal, ...]:
    goals: dict[str, Goal] = {}
    for number, row in enumerate(rows, start=2):
        if not any(cell.strip() for cell in row):
            continue
        goal = _goal(row, columns, number)
        if goal.code in goals:
            raise FrameworkError(f"row {number}, column code: {goal.code} stands twice.")
        goals[goal.code] = goal
        if len(goals) > MOST_GOALS:
            raise FrameworkError(f"row {number}: more than {MOST_GOALS} goals; give fewer.")
    if not goals:
        raise FrameworkError("row 2: no goals; give one goal in each row under the headings.")
    return tuple(goals.values())


def _goal(row: list[str], columns: dict[str, int], number: int) -> Goal:
    cells = {
        column: plain_text(row[place]) if place < len(row) else ""
        for column, place in columns.items()
    }
    for column in NEEDED:
        if not cells[column]:
            raise FrameworkError(f"row {number}, column {column}: empty; fill it in.")
        if len(cells[column]) > LONGEST_TEXT:
            raise FrameworkError(f"row {number}, column {column}: longer than {LONGEST_TEXT}.")
    return Goal(
        code=cells["code"],
        strand=cells["strand"],
        text=cells["text"],
        kinds=_kinds(cells.get("kinds", ""), number),
    )


def _kinds(cell: str, number: int) -> tuple[str, ...]:
    named = cell.lower().replace(",", " ").replace("|", " ").replace(";", " ").split()
    for kind in named:
        if kind not in KINDS:
            raise FrameworkError(f"row {number}, column kinds: {kind} is no kind of number work.")
    return tuple(dict.fromkeys(named))
