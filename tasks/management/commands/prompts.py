"""Print a set of prompts, or list the kinds there are."""

import json
from typing import Any

from django.core.management.base import CommandParser

from tasks.management.commands._refusing import RefusingCommand
from tasks.numberwork import DEPTHS, KINDS, Kind, Prompt, make_prompts, prompt_to_json, tell_apart


class Command(RefusingCommand):
    """python3 manage.py prompts halving --within 20 --count 8 --seed 7"""

    help = "Print a set of prompts; the same arguments always give the same set."

    def add_arguments(self, parser: CommandParser) -> None:
        """Take the arguments of make_prompts, and how to print."""
        parser.add_argument("kind", nargs="?", metavar="KIND", help="see --list")
        parser.add_argument("--list", action="store_true", help="list the kinds and stop")
        parser.add_argument("--within", type=int, default=10, help="largest number (10)")
        parser.add_argument("--count", type=int, default=8, help="how many prompts (8)")
        parser.add_argument("--seed", type=int, default=0, help="which set (0)")
        parser.add_argument("--depth", default="core", help=f"{', '.join(DEPTHS)} (core)")
        parser.add_argument("--format", choices=("text", "json"), default="text")

    def handle(self, *args: Any, **options: Any) -> None:
        """Print the list of kinds, or one set of prompts."""
        as_json = options["format"] == "json"
        if options["list"]:
            kinds = KINDS.values()
            listed = json.dumps([_kind_data(kind) for kind in kinds], ensure_ascii=False, indent=2)
            self.stdout.write(listed if as_json else "\n".join(map(_kind_line, kinds)))
            return
        if options["kind"] is None:
            raise ValueError(f"kind must be given: one of {', '.join(KINDS)}")
        names = ("kind", "within", "count", "seed", "depth")
        prompts = make_prompts(**{name: options[name] for name in names})
        if as_json:
            data = [prompt_to_json(prompt) for prompt in prompts]
            self.stdout.write(json.dumps(data, ensure_ascii=False, indent=2))
        else:
            self.stdout.write(_text(prompts))


def _kind_line(kind: Kind) -> str:
    """Return one kind on one line: name, ranges, example."""
    return f"{kind.name:26} within {', '.join(map(str, kind.ranges)):24} {kind.example}"


def _kind_data(kind: Kind) -> dict[str, Any]:
    """Return what a kind says of itself as plain data."""
    names = ("name", "title", "practises", "example", "say", "right")
    return {
        **{name: getattr(kind, name) for name in names},
        **{name: list(getattr(kind, name)) for name in ("ranges", "fetch")},
        "cautions": [caution.order for caution in kind.cautions],
        **{name: dict(getattr(kind, name)) for name in ("forms", "mistakes", "depths")},
    }


def _text(prompts: tuple[Prompt, ...]) -> str:
    """Lay out prompts to read: written, said, answer, mistakes, and what they cannot tell apart."""
    lines = []
    for number, prompt in enumerate(prompts, start=1):
        answer = " or ".join(map(str, prompt.right_answers))
        wrong = ", ".join(f"{name}: {answer}" for name, answer in prompt.mistakes.items())
        lines += [f"{number}. {prompt.sentence}", f"   {prompt.spoken}", f"   answer {answer}"]
        lines += [f"   {wrong}"] if wrong else []
    pairs = [f"{one} / {other}" for one, other in tell_apart(prompts)]
    return "\n".join([*lines, *(["cannot tell apart: " + "; ".join(pairs)] if pairs else [])])
