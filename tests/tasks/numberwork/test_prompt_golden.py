"""The prompts of today are the prompts of tomorrow, on every machine and Python version."""

import json
from pathlib import Path

import pytest

from tasks.numberwork import Prompt, make_prompts, prompt_to_json

GOLDEN = json.loads((Path(__file__).parent / "golden.json").read_text(encoding="utf-8"))


def line_of(prompt: Prompt) -> list[object]:
    """Return what is kept of a prompt: its key, how it is written and said, and its answer."""
    answer = prompt_to_json(prompt)["answer"]
    return [prompt.key, prompt.sentence, prompt.spoken, answer, sorted(prompt.mistakes)]


@pytest.mark.parametrize("place", range(len(GOLDEN)), ids=[one["kind"] for one in GOLDEN])
def test_a_set_is_the_one_that_was_kept(place):
    kept = GOLDEN[place]
    prompts = make_prompts(kept["kind"], kept["within"], 4, kept["seed"], depth=kept["depth"])
    assert [line_of(prompt) for prompt in prompts] == kept["prompts"]
