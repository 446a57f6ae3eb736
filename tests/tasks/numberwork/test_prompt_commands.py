"""The commands print the same sets, and refuse in one line what they cannot take."""

import io
import json
import subprocess
import sys
from pathlib import Path

import pytest
from django.core.management import CommandError, call_command

from tasks.numberwork import KINDS, make_prompts, prompt_to_json

ROOT = Path(__file__).resolve().parents[3]


def printed(*arguments, given=None, monkeypatch=None):
    """Run a command and give what it prints."""
    out = io.StringIO()
    if given is not None:
        text = given if isinstance(given, str) else json.dumps(given)
        monkeypatch.setattr(sys, "stdin", io.StringIO(text))
    call_command(*arguments, stdout=out)
    return out.getvalue()


def test_prompts_prints_the_set_as_json():
    out = printed("prompts", "halving", "--within=20", "--count=8", "--seed=7", "--format=json")
    expected = [prompt_to_json(prompt) for prompt in make_prompts("halving", 20, 8, 7)]
    assert json.loads(out) == expected


def test_prompts_prints_the_set_to_read():
    out = printed("prompts", "halving-number-sentence", "--count=2", "--seed=1")
    for prompt in make_prompts("halving-number-sentence", 10, 2, 1):
        assert prompt.sentence in out
        assert prompt.spoken in out


def test_the_list_names_every_kind():
    assert [line.split()[0] for line in printed("prompts", "--list").splitlines()] == list(KINDS)
    listed = json.loads(printed("prompts", "--list", "--format=json"))
    assert [kind["name"] for kind in listed] == list(KINDS)
    assert listed[0]["mistakes"] == dict(KINDS[listed[0]["name"]].mistakes)


def test_spot_mistakes_reads_a_set_and_its_answers(monkeypatch):
    prompts = make_prompts("halving", 20, 4, 7)
    answers = [prompt.mistakes["doubled"] for prompt in prompts]
    given = {"kind": "halving", "within": 20, "count": 4, "seed": 7, "answers": answers}
    out = printed("spot_mistakes", "--format=json", given=given, monkeypatch=monkeypatch)
    first = json.loads(out)[0]
    assert first["mistake"] == "doubled"
    assert first["sentence"] == "Said double instead of half in 4 of 4."
    typed = {**given, "answers": [str(answers[0]), f" {answers[1]} ", None, answers[3]]}
    out = printed("spot_mistakes", given=typed, monkeypatch=monkeypatch)
    assert "Said double instead of half in 3 of 3." in out.splitlines()[0]


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ("{", "standard input must be JSON"),
        ("[]", "standard input must be one JSON object"),
        ({"kind": "halving"}, "within is missing"),
        ({"answers": "8"}, "answers must be a list"),
        ({"answers": [1]}, "answers must be 2, null for a blank, not 1"),
        ({"answers": [1, True]}, "answers must be numbers, texts, lists of numbers or null"),
        ({"within": 7}, "within must be 5, 10, 20, 50 or 100 for halving, not 7"),
        ({"kind": ["halving"]}, "kind must be one of"),
        ({"colour": "red"}, "colour is not one of them"),
    ],
)
def test_spot_mistakes_names_what_is_wrong_with_its_input(given, said, monkeypatch):
    whole = {"kind": "halving", "within": 10, "count": 2, "seed": 1, "answers": [1, 2]}
    if isinstance(given, dict) and given != {"kind": "halving"}:
        given = {**whole, **given}
    with pytest.raises(CommandError, match=said) as refused:
        printed("spot_mistakes", given=given, monkeypatch=monkeypatch)
    assert refused.value.returncode == 2


@pytest.mark.parametrize(
    ("arguments", "named"),
    [
        (["halfing"], "kind"),
        ([], "kind"),
        (["halving", "--within", "7"], "within"),
        (["halving", "--within", "ten"], "--within"),
        (["halving", "--count", "1000"], "count"),
        (["halving", "--count", "60"], "has 10 prompts"),
        (["halving", "--depth", "deep"], "depth"),
        (["halving", "--format", "xml"], "--format"),
        (["halving", "--bogus"], "--bogus"),
    ],
)
def test_a_wrong_argument_is_one_line_on_stderr_and_exit_2(arguments, named):
    run = subprocess.run(
        [sys.executable, "manage.py", "prompts", *arguments],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert run.returncode == 2
    assert run.stdout == ""
    assert len(run.stderr.strip().splitlines()) == 1, run.stderr
    assert named in run.stderr
