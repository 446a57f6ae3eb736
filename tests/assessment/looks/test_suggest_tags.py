"""The command by which the rules of suggesting tags are checked from outside."""

import io
import json
import subprocess
import sys

import pytest
from django.core.management import CommandError, call_command

from tests.house import ROOT

GIVEN = {
    "kind": "number-bonds",
    "within": 10,
    "depth": "challenge",
    "form": "first part",
    "count": 4,
    "right": 4,
    "seen": ["typed", "voice"],
    "help": "alone",
}


def printed(monkeypatch, given, *arguments):
    """Run the command on what is given, and give what it prints."""
    text = given if isinstance(given, str) else json.dumps(given)
    monkeypatch.setattr(sys, "stdin", io.StringIO(text))
    out = io.StringIO()
    call_command("suggest_tags", *arguments, stdout=out)
    return out.getvalue()


def suggested(monkeypatch, **changes):
    """Give how each goal is shown and why, by its code, and what is missing for the others."""
    found = json.loads(printed(monkeypatch, {**GIVEN, **changes}, "--format=json"))
    assert found.keys() == {"suggestions", "missing"}
    said = {one["goal"]: (one["how"], one["reason"]) for one in found["suggestions"]}
    return said, {one["goal"]: one["reason"] for one in found["missing"]}


def test_a_suggestion_says_how_and_why_in_one_line(monkeypatch):
    said, missing = suggested(monkeypatch)
    assert said["ELG-NUM-3"] == ("independently", "4 of 4 right, all alone")
    assert missing == {}


# Source of each: the acceptance examples follow the wording of the early learning goals.
@pytest.mark.parametrize(
    ("changes", "goal", "words"),
    [
        ({"seen": ["typed"]}, "ELG-NUM-3", "4 of 4 right, it was not heard from the child"),
        ({"help": "a little"}, "ELG-NUM-3", "4 of 4 right, with a little help"),
        ({"help": "together"}, "ELG-NUM-3", "4 of 4 right, done together"),
        ({"help": ""}, "ELG-NUM-3", "4 of 4 right, help not said"),
        ({"help": None}, "ELG-NUM-3", "4 of 4 right, help not said"),
        ({"right": 2}, "ELG-NUM-3", "2 of 4 right, too many wrong"),
        (
            {"kind": "counting-aloud-in-ones", "within": 50, "depth": "core", "form": "on"}
            | {"seen": ["heard past 20"]},
            "ELG-NP-1",
            "4 of 4 right, it is said together with an adult",
        ),
    ],
)
def test_what_keeps_it_to_with_support_is_said(monkeypatch, changes, goal, words):
    said, _missing = suggested(monkeypatch, **changes)
    assert said[goal] == ("with support", words)


@pytest.mark.parametrize(
    ("changes", "goal", "words"),
    [
        ({"right": 1, "count": 1}, "ELG-NUM-3", "1 of 1 right, too few right answers to tell"),
        ({"within": 20}, "ELG-NUM-3", "numbers to 20; it is about numbers to 10"),
        ({"within": 5}, "ELG-NUM-1", "fewer than two right with numbers to 10"),
        ({"seen": []}, "ELG-NUM-3", "nothing of it was seen"),
        (
            {"depth": "with support", "form": "second part"},
            "ELG-NUM-3",
            "the picture gives support",
        ),
        (
            {"kind": "adding", "depth": "core", "form": "total"},
            "ELG-NUM-3",
            "there was a number line, or something to count",
        ),
        (
            {"kind": "subitising", "within": 5, "depth": "core", "form": "dice"},
            "ELG-NUM-2",
            "the picture was not covered after two seconds",
        ),
        (
            {"kind": "counting-on-in-ones", "within": 50, "depth": "core", "form": "run"}
            | {"seen": ["clip", "heard to 20"]},
            "ELG-NP-1",
            "no count was heard as far as 21",
        ),
        (
            {"kind": "hundred-square", "within": 50, "depth": "core", "form": "below"},
            "ELG-NP-1",
            "no count was heard as far as 21",
        ),
        (
            {"kind": "odd-or-even", "depth": "core", "form": "odd or even", "right": 3, "count": 3},
            "ELG-NP-3",
            "a guess would be right as often",
        ),
        (
            {"depth": "with support", "form": "taken away"},
            "ELG-NUM-3",
            "this is not asked so with these numbers at this depth",
        ),
    ],
)
def test_where_nothing_is_suggested_what_is_missing_is_said(monkeypatch, changes, goal, words):
    said, missing = suggested(monkeypatch, **changes)
    assert goal not in said
    assert words in missing[goal]


def test_nothing_said_of_the_help_is_never_without_help(monkeypatch):
    given = {name: value for name, value in GIVEN.items() if name != "help"}
    found = json.loads(printed(monkeypatch, given, "--format=json"))
    assert {one["how"] for one in found["suggestions"]} == {"with support"}


def test_a_list_is_answered_one_by_one_and_may_be_empty(monkeypatch):
    found = json.loads(printed(monkeypatch, [GIVEN, {**GIVEN, "right": 0}], "--format=json"))
    assert [[one["how"] for one in each["suggestions"]] for each in found] == [
        ["independently", "independently"],
        [],
    ]
    assert json.loads(printed(monkeypatch, [], "--format=json")) == []


def test_other_goals_and_words_to_read(monkeypatch):
    text = printed(monkeypatch, {**GIVEN, "depth": "harder"}, "--framework=us-common-core-k")
    assert "K.OA.A.4: with support (4 of 4 right, the child’s own writing was not seen)" in text
    assert "K.OA.A.5: nothing suggested, 4 of 4 right, numbers to 10" in text


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"kind": "moons"}, "kind"),
        ({"kind": 3}, "kind"),
        ({"within": 7}, "within"),
        ({"within": "10"}, "within"),
        ({"within": True}, "within"),
        ({"depth": "deep"}, "depth"),
        ({"depth": None}, "depth"),
        ({"form": "sideways"}, "form"),
        ({"count": -1}, "count"),
        ({"count": 4.0}, "count"),
        ({"right": 5}, "right"),
        ({"right": None}, "right"),
        ({"seen": "typed"}, "seen"),
        ({"seen": [3]}, "seen"),
        ({"seen": ["smelt"]}, "seen"),
        ({"help": "plenty"}, "help"),
        ({"help": 1}, "help"),
        ({"help": False}, "help"),
        ({"colour": "red"}, "colour"),
    ],
)
def test_what_cannot_be_read_is_refused_by_its_field(monkeypatch, changes, field):
    with pytest.raises(CommandError, match=f"^{field}: ") as refusal:
        printed(monkeypatch, {**GIVEN, **changes})
    assert refusal.value.returncode == 2


@pytest.mark.parametrize("field", [name for name in GIVEN if name != "help"])
def test_what_is_left_out_is_named(monkeypatch, field):
    given = {name: value for name, value in GIVEN.items() if name != field}
    with pytest.raises(CommandError, match=f"^{field}: ") as refusal:
        printed(monkeypatch, [given])
    assert refusal.value.returncode == 2


@pytest.mark.parametrize("text", ["", "{", "3", '"kind"', "[3]", "null"])
def test_what_is_no_object_is_refused(monkeypatch, text):
    with pytest.raises(CommandError, match="standard input") as refusal:
        printed(monkeypatch, text)
    assert refusal.value.returncode == 2


def test_from_the_shell_it_ends_with_2_and_one_line():
    ran = subprocess.run(
        [sys.executable, "manage.py", "suggest_tags", "--format", "json"],
        cwd=ROOT,
        input=json.dumps({**GIVEN, "right": 9}),
        capture_output=True,
        text=True,
        check=False,
    )
    assert ran.returncode == 2
    assert ran.stdout == ""
    assert "right: must be a whole number from 0 to 4, not 9" in ran.stderr
    assert len(ran.stderr.strip().splitlines()) == 1
