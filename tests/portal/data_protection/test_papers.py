"""The papers tell what the code does: every field has its purpose, every promise its test."""

import ast
import re
from pathlib import Path

import pytest
from django.apps import apps

ROOT = Path(__file__).resolve().parents[3]
IMPACT = ROOT / "portal/data_protection/impact.md"
TRUST = ROOT / "portal/data_protection/trust_table.md"
STATEMENTS = {
    *(f"S{n}" for n in range(1, 52)),
    *(f"P{n}" for n in range(1, 23)),
    *(f"D{n}" for n in range(1, 7)),
    *(f"E{n}" for n in range(1, 7)),
    *(f"B{n}" for n in range(1, 13)),
}
ROW = re.compile(r"^\| `(\w+\.\w+\.\w+)` \| (.+) \|$", re.MULTILINE)


def fields_of_the_database() -> set[str]:
    """Return every field of every table, as app.Model.field."""
    return {
        f"{model._meta.label}.{field.name}"
        for model in apps.get_models(include_auto_created=True)
        for field in (*model._meta.fields, *model._meta.many_to_many)
    }


def test_the_impact_assessment_gives_every_field_a_purpose_and_names_no_other():
    told = dict(ROW.findall(IMPACT.read_text(encoding="utf-8")))
    assert set(told) == fields_of_the_database()
    assert all(len(words) > 1 for words in told.values())


def test_each_table_of_the_impact_assessment_says_who_sees_it_and_how_long():
    parts = re.split(r"^### ", IMPACT.read_text(encoding="utf-8"), flags=re.MULTILINE)[1:]
    assert {part.split("\n")[0] for part in parts} == {
        model._meta.label for model in apps.get_models(include_auto_created=True)
    }
    for part in parts:
        assert re.search(r"^Seen by: .+\.  $", part, re.MULTILINE), part
        assert re.search(r"^Kept: .+\.$", part, re.MULTILINE), part


def rows_of_trust() -> dict[str, tuple[str, str]]:
    """Return each statement of the trust table with its words and what holds it."""
    lines = TRUST.read_text(encoding="utf-8").splitlines()
    cells = [[cell.strip() for cell in line.strip("|").split("|")] for line in lines
             if re.match(r"\| [SPDEB]\d", line)]  # fmt: skip
    assert all(len(row) == 3 for row in cells), [row for row in cells if len(row) != 3]
    return {row[0]: (row[1], row[2]) for row in cells}


def named_tests(text: str) -> list[str]:
    """Return the tests that *text* names, as path::function."""
    return re.findall(r"`(tests/[\w/]+\.py::\w+)`", text)


def test_the_trust_table_has_a_row_for_every_statement():
    assert set(rows_of_trust()) == STATEMENTS


@pytest.mark.parametrize("statement", sorted(STATEMENTS))
def test_each_statement_names_a_test_that_is_there_or_says_why_not(statement):
    _words, held_by = rows_of_trust()[statement]
    named = named_tests(held_by)
    assert named or re.match(r"(Missing|Does not apply|By hand): .{10,}", held_by), held_by
    for test in named:
        path, function = test.split("::")
        tree = ast.parse((ROOT / path).read_text(encoding="utf-8"))
        there = {node.name for node in ast.walk(tree) if isinstance(node, ast.FunctionDef)}
        assert function in there, f"{test} is not there"
