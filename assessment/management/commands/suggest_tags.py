"""Say how goals were shown by answers that are described on standard input."""

import json
import sys
from typing import Any

from django.core.management.base import CommandParser

from assessment.frameworks import DEFAULT, Framework, all_frameworks, framework_by_id
from assessment.frameworks.showing.work import HELP, NOT_SAID, Work
from assessment.looks.suggestions import suggested_tag, work_of
from tasks.management.commands._refusing import RefusingCommand
from tasks.numberwork import EVERY_KIND
from tasks.numberwork.prompt import CHALLENGE, CORE, DEPTHS, WITH_SUPPORT
from tasks.numberwork.showing.facts import facts_of_form
from tasks.numberwork.showing.seen import read_seen

NEEDED = ("kind", "within", "depth", "form", "count", "right", "seen")
ALLOWED = (*NEEDED, "help")  # where nothing is said of the help, it is left out
# The depths by their names on pages are taken too.
ON_PAGES = {"easier": WITH_SUPPORT, "usual": CORE, "harder": CHALLENGE}
MOST = 1000
NOT_ASKED = "this is not asked so with these numbers at this depth"


class Command(RefusingCommand):
    """echo '{"kind": "subitising", …, "seen": ["glimpsed"]}' | python3 manage.py suggest_tags"""

    help = (
        "Read kind, within, depth, form, count (asked), right (answered rightly), seen (a list) "
        "and help as JSON, one object or a list of them; print which goals they show, how and why."
    )

    def add_arguments(self, parser: CommandParser) -> None:
        """Take which goals, and how to print; the work comes as JSON on standard input."""
        names = [framework.id for framework in all_frameworks()]
        parser.add_argument("--framework", choices=names, default=DEFAULT)
        parser.add_argument("--format", choices=("text", "json"), default="text")

    def handle(self, *args: Any, **options: Any) -> None:
        """Print what each piece of work suggests, and what is missing for the other goals."""
        given = _read_json(sys.stdin.read())
        framework = framework_by_id(options["framework"])
        found = [_suggestions(framework, one) for one in (given if _is_list(given) else [given])]
        if options["format"] == "json":
            printed = found if _is_list(given) else found[0]
            self.stdout.write(json.dumps(printed, ensure_ascii=False, indent=2))
        else:
            self.stdout.write("\n\n".join(map(_text, found)))


def _is_list(given: Any) -> bool:
    return isinstance(given, list)


def _read_json(text: str) -> Any:
    try:
        return json.loads(text)
    except json.JSONDecodeError as error:
        raise ValueError(f"standard input must be JSON: {error}") from error


def _suggestions(framework: Framework, data: Any) -> dict[str, list[dict[str, str]]]:
    """Return the suggestions of one piece of work, and what is missing for the other goals."""
    work = _read_work(data)
    found: dict[str, list[dict[str, str]]] = {"suggestions": [], "missing": []}
    for goal in framework.goals:
        if work is None:
            if goal.asks.is_about(data["kind"], goal.kinds):
                found["missing"].append(_row(goal.code, goal.label, NOT_ASKED))
            continue
        tag = suggested_tag(goal.asks, goal.kinds, [work])
        if tag and tag.how:
            row = _row(goal.code, goal.label, tag.reason)
            found["suggestions"].append({"how": str(tag.how), **row})
        elif tag:
            found["missing"].append(_row(goal.code, goal.label, tag.reason))
    return found


def _row(code: str, text: str, reason: str) -> dict[str, str]:
    return {"goal": code, "text": text, "reason": reason}


def _read_work(data: Any) -> Work | None:
    """Read one piece of work; None where its kind is not asked so. Raises ValueError by field."""
    if not isinstance(data, dict):
        raise ValueError(f"standard input must be an object, or a list of them: {NEEDED}")
    for name in NEEDED:
        if name not in data:
            raise ValueError(f"{name}: is missing")
    for name in data:
        if name not in ALLOWED:
            raise ValueError(f"{name}: is none of {', '.join(ALLOWED)}")
    kind = EVERY_KIND[_one_of("kind", data["kind"], EVERY_KIND)]
    within = _one_of("within", data["within"], kind.ranges)
    depth = ON_PAGES.get(str(data["depth"]), data["depth"])
    _one_of("depth", depth, DEPTHS)
    form = _one_of("form", data["form"], kind.forms)
    asked = _whole("count", data["count"], 0, MOST)
    right = _whole("right", data["right"], 0, asked)
    if not isinstance(data["seen"], list) or not all(isinstance(one, str) for one in data["seen"]):
        raise ValueError("seen: must be a list of words")
    said = data.get("help")
    help_given = _one_of("help", NOT_SAID if said is None else said, HELP)
    seen = read_seen(data["seen"])
    facts = facts_of_form(kind.name, within, depth, form)
    return work_of(facts, asked, right, seen, help_given) if facts else None


def _one_of(name: str, value: Any, allowed: Any) -> Any:
    """Return *value* where it is one of *allowed*, of the same type. Raises ValueError."""
    if any(value == one and type(value) is type(one) for one in allowed):
        return value
    raise ValueError(f"{name}: {value!r} is none of {', '.join(map(str, filter(None, allowed)))}")


def _whole(name: str, value: Any, least: int, most: int) -> int:
    if type(value) is not int or not least <= value <= most:
        raise ValueError(f"{name}: must be a whole number from {least} to {most}, not {value!r}")
    return value


def _text(found: dict[str, list[dict[str, str]]]) -> str:
    """Lay out what one piece of work suggests, to read."""
    lines = [f"{one['goal']}: {one['how']} ({one['reason']})" for one in found["suggestions"]]
    lines += [f"{one['goal']}: nothing suggested, {one['reason']}" for one in found["missing"]]
    return "\n".join(lines) or "no goal is about this kind of work"
