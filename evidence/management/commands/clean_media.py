"""Clean one file from the command line, without a database."""

import json
from dataclasses import asdict
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from evidence.media import (
    Cleaned,
    CrashedError,
    Refused,
    TryLaterError,
    clean,
    recognise,
    refusal_words,
)

REFUSED = 3
BAD_ARGUMENTS = 2


class Command(BaseCommand):
    help = "Clean FILE into the folder OUT and say what was found. Exit code 3: refused."
    requires_system_checks: list[str] = []

    def add_arguments(self, parser: CommandParser) -> None:
        """Add FILE, OUT, --turn and --format."""
        parser.add_argument("file", type=Path, metavar="FILE")
        parser.add_argument("out", type=Path, metavar="OUT")
        parser.add_argument("--turn", type=int, choices=(0, 90, 180, 270), default=0)
        parser.add_argument("--format", choices=("text", "json"), default="text")

    def handle(self, *, file: Path, out: Path, turn: int, format: str, **options: Any) -> None:
        """Clean the file and print the result."""
        if not file.is_file():
            raise CommandError(f"no such file: {file}", returncode=BAD_ARGUMENTS)
        if out.exists() and not out.is_dir():
            raise CommandError(f"not a folder: {out}", returncode=BAD_ARGUMENTS)
        try:
            result = clean(file, out, turn=turn)
        except CrashedError as error:
            raise CommandError(f"the decoder gave no verdict: {error.detail}") from error
        except (TryLaterError, OSError) as error:
            raise CommandError(f"could not be done now: {error}") from error
        lines = {"text": as_text, "json": as_json}[format](file, result)
        self.stdout.write(lines)
        if isinstance(result, Refused):
            raise SystemExit(REFUSED)


def as_text(file: Path, result: Cleaned | Refused) -> str:
    """Return one line for what was found and one for each file written."""
    if isinstance(result, Refused):
        return f"refused: {result.reason}\n{refusal_words(result.reason)}"
    found = recognise(file)
    kind = "" if isinstance(found, Refused) else f" ({found.media_type})"
    size = f", {result.width} x {result.height}" if result.width else ""
    length = f", {result.seconds} s" if result.seconds else ""
    lines = [f"{result.kind} from {result.source_format}{kind}{size}{length}"]
    lines += [f"{one.role}: {one.path} ({one.bytes} bytes)" for one in result.outputs]
    return "\n".join(lines)


def as_json(file: Path, result: Cleaned | Refused) -> str:
    """Return the result as one JSON object."""
    answer = {"cleaned": isinstance(result, Cleaned), **asdict(result)}
    if isinstance(result, Refused):
        answer["words"] = refusal_words(result.reason)
    return json.dumps(answer, default=str, indent=2)
