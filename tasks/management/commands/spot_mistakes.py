"""Read a set of answers and suggest which mistake may lie behind them."""

import json
import sys
from typing import Any

from django.core.management.base import CommandParser

from tasks.management.commands._refusing import RefusingCommand
from tasks.numberwork import (
    Finding,
    Prompt,
    make_prompts,
    prompt_to_json,
    read_answer,
    spot_mistakes,
)

NEEDED = ("kind", "within", "count", "seed", "answers")
ALLOWED = (*NEEDED, "depth")


class Command(RefusingCommand):
    """echo '{"kind": "halving", …, "answers": [4, null]}' | python3 manage.py spot_mistakes"""

    help = "Read kind, within, count, seed and answers as JSON; suggest likely mistakes."

    def add_arguments(self, parser: CommandParser) -> None:
        """Take how to print; the set and its answers come as JSON on standard input."""
        parser.add_argument("--format", choices=("text", "json"), default="text")

    def handle(self, *args: Any, **options: Any) -> None:
        """Print the findings, most probable first."""
        data = read_set(sys.stdin.read())
        answers = data.pop("answers")
        prompts = make_prompts(**data)
        if len(answers) != len(prompts):
            raise ValueError(
                f"answers must be {len(prompts)}, null for a blank, not {len(answers)}"
            )
        read = [answer_of(prompt, value) for prompt, value in zip(prompts, answers, strict=True)]
        findings = spot_mistakes(prompts, read)
        if options["format"] == "json":
            listed = [_finding_data(finding) for finding in findings]
            self.stdout.write(json.dumps(listed, ensure_ascii=False, indent=2))
        else:
            self.stdout.write("\n".join(map(_finding_line, findings)))


def read_set(text: str) -> dict[str, Any]:
    """Read which set was answered, and how. Raises ValueError naming what is wrong."""
    try:
        data = json.loads(text)
    except json.JSONDecodeError as error:
        raise ValueError(f"standard input must be JSON: {error}") from error
    if not isinstance(data, dict):
        raise ValueError(f"standard input must be one JSON object with {', '.join(NEEDED)}")
    missing = [name for name in NEEDED if name not in data]
    unknown = [name for name in data if name not in ALLOWED]
    if missing or unknown:
        wrong = f"{missing[0]} is missing" if missing else f"{unknown[0]} is not one of them"
        raise ValueError(f"standard input must have {', '.join(NEEDED)}; {wrong}")
    if not isinstance(data["answers"], list):
        raise ValueError("answers must be a list of numbers, texts, lists of numbers or null")
    return data


def answer_of(prompt: Prompt, value: Any) -> Any:
    """Return one answer as the prompts hold it: typed text is read, null is a blank."""
    if isinstance(value, str):
        return read_answer(prompt, value)
    if isinstance(value, list) and all(type(number) is int for number in value):
        return tuple(value)
    if value is None or type(value) is int:
        return value
    raise ValueError(f"answers must be numbers, texts, lists of numbers or null, not {value!r}")


def _finding_data(finding: Finding) -> dict[str, Any]:
    """Return a finding as plain data."""
    following = finding.next_prompt
    return {
        "mistake": finding.mistake,
        "probability": round(finding.probability, 4),
        "shown_by": list(finding.shown_by),
        "sentence": finding.sentence,
        "next_prompt": prompt_to_json(following) if following else None,
    }


def _finding_line(finding: Finding) -> str:
    """Return a finding on one line; prompts are counted from 1."""
    shown = ", ".join(str(place + 1) for place in finding.shown_by)
    return f"{finding.probability:6.1%}  {finding.mistake}: {finding.sentence}" + (
        f" (prompts {shown})" if shown else ""
    )
