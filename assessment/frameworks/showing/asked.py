"""What a goal asks to be shown: by which work, how far, by which means, and what must be seen."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Self

from ..kinds import DONE_TOGETHER, KINDS

# What may have to be seen, by the words of the number work.
WAYS = ("heard", "glimpsed", "made", "written")
FARTHEST = 1000


@dataclass(frozen=True, slots=True)
class Asked:
    """What a goal asks of the work that is to show it; all left empty, it asks for nothing more.

    shown_by: kinds that show it, or one form of a kind as "kind:form"; empty for all its kinds.
    reach: numbers as far as this. most: and none beyond. heard_to: a count heard to this number.
    without_aids: nothing to count along. seen: without one of these nothing is shown.
    seen_alone: without one of these it is not shown independently.
    """

    shown_by: tuple[str, ...] = ()
    reach: int = 0
    most: int = 0
    heard_to: int = 0
    without_aids: bool = False
    seen: tuple[str, ...] = ()
    seen_alone: tuple[str, ...] = ()

    @classmethod
    def read(cls, data: Mapping[str, Any]) -> Self:
        """Read what a goal file or a package says. Raises ValueError naming the field."""
        unknown = [name for name in data if name not in cls.__dataclass_fields__]
        if unknown:
            raise ValueError(f"{unknown[0]} is no part of what a goal asks")
        for name in ("reach", "most", "heard_to"):
            _check_number(name, data.get(name, 0))
        for name in ("shown_by", "seen", "seen_alone"):
            _check_words(name, data.get(name, []))
        for name in ("seen", "seen_alone"):
            strange = [way for way in data.get(name, []) if way not in WAYS]
            if strange:
                raise ValueError(f"{name} has {strange[0]!r}, none of {', '.join(WAYS)}")
        for named in data.get("shown_by", []):
            if named.partition(":")[0] not in (*KINDS, *DONE_TOGETHER):
                raise ValueError(f"shown_by names no known kind: {named}")
        if not isinstance(data.get("without_aids", False), bool):
            raise ValueError("without_aids must be true or false")
        values: dict[str, Any] = {
            name: tuple(value) if isinstance(value, list) else value for name, value in data.items()
        }
        return cls(**values)

    def data(self) -> dict[str, Any]:
        """Return what `read` reads: only what is asked."""
        values = {name: getattr(self, name) for name in self.__dataclass_fields__}
        return {
            name: list(value) if isinstance(value, tuple) else value
            for name, value in values.items()
            if value
        }

    def is_shown_by(self, kind: str, form: str, kinds: tuple[str, ...]) -> bool:
        """Tell whether work of this form shows it; *kinds*: those that the goal is about."""
        named = self.shown_by or kinds
        return kind in named or f"{kind}:{form}" in named

    def is_about(self, kind: str, kinds: tuple[str, ...]) -> bool:
        """Tell whether work of *kind* has to do with the goal at all, whatever its form."""
        named = (one.partition(":")[0] for one in self.shown_by)
        return kind in kinds or kind in named


def _check_number(name: str, value: Any) -> None:
    if isinstance(value, bool) or not isinstance(value, int) or not 0 <= value <= FARTHEST:
        raise ValueError(f"{name} must be a number from 0 to {FARTHEST}, not {value!r}")


def _check_words(name: str, value: Any) -> None:
    if not isinstance(value, list) or not all(isinstance(one, str) for one in value):
        raise ValueError(f"{name} must be a list of words, not {value!r}")
