"""Prompts as plain values that JSON can hold, and back, without loss."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from tasks.numberwork.pictures import picture_from_json, picture_to_json
from tasks.numberwork.prompt import Answer, Prompt


def prompt_to_json(prompt: Prompt) -> dict[str, Any]:
    """Return a prompt as a dictionary of texts, numbers and lists that `json.dumps` accepts."""
    return {
        "kind": prompt.kind,
        "form": prompt.form,
        "fact": prompt.fact,
        "depth": prompt.depth,
        "within": prompt.within,
        "sentence": prompt.sentence,
        "spoken": prompt.spoken,
        "answer": _plain(prompt.answer),
        "answers": [_plain(answer) for answer in prompt.answers],
        "choices": list(prompt.choices),
        "numbers": list(prompt.numbers),
        "things": list(prompt.things),
        "picture": picture_to_json(prompt.picture) if prompt.picture is not None else None,
        "mistakes": {name: _plain(answer) for name, answer in prompt.mistakes.items()},
    }


def prompt_from_json(data: Mapping[str, Any]) -> Prompt:
    """Return back the prompt that `prompt_to_json` stored.

    Raises KeyError for a missing part, ValueError for a picture that cannot be.
    """
    picture = data["picture"]
    return Prompt(
        kind=data["kind"],
        sentence=data["sentence"],
        spoken=data["spoken"],
        answer=_answer(data["answer"]),
        numbers=tuple(data["numbers"]),
        picture=picture_from_json(picture) if picture is not None else None,
        mistakes={name: _answer(answer) for name, answer in data["mistakes"].items()},
        form=data["form"],
        answers=tuple(_answer(answer) for answer in data["answers"]),
        choices=tuple(data["choices"]),
        fact=data["fact"],
        things=tuple(data["things"]),
        depth=data["depth"],
        within=data["within"],
    )


def prompt_kept(data: Any, sentence: str, spoken: str) -> Prompt:
    """Return back a kept prompt as far as this program can read it: its sentence at the least.

    The one way from a stored prompt to a page, which must open whatever is stored. A picture
    that is drawn no more is left out. Where more is missing the prompt `can_be_marked` no more.
    """
    for part in ({}, {"picture": None}):
        try:
            return prompt_from_json({**data, **part})
        except (AttributeError, KeyError, TypeError, ValueError):
            continue
    return Prompt("", sentence, spoken, "", (), None, {})


def _plain(answer: Answer) -> int | str | list[int]:
    """Return an answer as JSON holds it."""
    return list(answer) if isinstance(answer, tuple) else answer


def _answer(value: Any) -> Answer:
    """Return an answer as a prompt holds it. Raises ValueError for anything else."""
    if isinstance(value, list):
        return tuple(value)
    if isinstance(value, int | str) and not isinstance(value, bool):
        return value
    raise ValueError(f"an answer is a number, a word or a list of numbers, not {value!r}")
