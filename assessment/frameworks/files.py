"""Reads the goal files that stand beside this module."""

import json
from functools import cache
from pathlib import Path
from typing import Any

from .framework import Framework, FrameworkError, Goal, Strand, strands_of
from .kinds import KINDS
from .showing.asked import Asked

FOLDER = Path(__file__).parent
DEFAULT = "eyfs-elg-2021"
TEXT_FIELDS = ("id", "title", "publisher", "edition", "source", "licence", "notice", "stem")


def load_framework(path: Path) -> Framework:
    """Read one goal file. Raises FrameworkError naming the file and the field."""
    try:
        data = json.loads(path.read_text(encoding="utf-8"))
        return _framework(data)
    except FrameworkError as error:
        raise FrameworkError(f"{path.name}: {error}") from error
    except (ValueError, OSError) as error:
        raise FrameworkError(f"{path.name}: cannot be read as JSON ({error}).") from error


@cache
def all_frameworks() -> tuple[Framework, ...]:
    """Read every goal file in this folder, the default first, then by id."""
    found = [load_framework(path) for path in sorted(FOLDER.glob("*.json"))]
    return tuple(sorted(found, key=lambda framework: (framework.id != DEFAULT, framework.id)))


def framework_by_id(name: str) -> Framework:
    """Return the shipped framework with this id; KeyError when there is none."""
    for framework in all_frameworks():
        if framework.id == name:
            return framework
    raise KeyError(name)


def _framework(data: Any) -> Framework:
    if not isinstance(data, dict) or not isinstance(data.get("goals"), list):
        raise FrameworkError("goals: missing; a goal file is an object with a list of goals.")
    goals = tuple(_goal(row) for row in data["goals"])
    given = tuple(
        Strand(_text(row, "code"), _text(row, "title")) for row in data.get("strands", [])
    )
    return Framework(
        **{field: _text(data, field) for field in TEXT_FIELDS},
        levels=tuple(data.get("levels", [])),
        judged_by=data.get("judged_by", "goal"),
        strands=given or strands_of(goals),
        goals=goals,
    )


def _goal(row: dict[str, Any]) -> Goal:
    kinds = tuple(row.get("kinds", ()))
    unknown = [kind for kind in kinds if kind not in KINDS]
    if unknown:
        raise FrameworkError(f"kinds: goal {row.get('code')} names no known kind: {unknown[0]}.")
    optional = {field: row.get(field, "") for field in ("why", "note", "identifier")}
    if not kinds and not optional["why"]:
        raise FrameworkError(f"why: goal {row.get('code')} has no kinds and does not say why.")
    return Goal(
        code=_text(row, "code"),
        strand=_text(row, "strand"),
        text=_text(row, "text"),
        kinds=kinds,
        asks=_asked(row),
        **optional,
    )


def _asked(row: dict[str, Any]) -> Asked:
    try:
        return Asked.read(row.get("asks", {}))
    except ValueError as error:
        raise FrameworkError(f"asks: goal {row.get('code')}: {error}.") from error


def _text(row: dict[str, Any], field: str) -> str:
    value = row.get(field)
    if not isinstance(value, str):
        raise FrameworkError(f"{field}: missing; give it as text.")
    return value
