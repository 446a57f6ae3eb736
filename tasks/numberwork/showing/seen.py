"""What was seen of a child's work, and what each way of seeing it lets one say."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

# What has to be seen for a thing to count: heard from the child, seen for a moment only,
# made with things, written by the child.
HEARD, GLIMPSED, MADE, WRITTEN = "heard", "glimpsed", "made", "written"
WAYS = (HEARD, GLIMPSED, MADE, WRITTEN)

# Each word for what was seen. An answer that was typed, or said to the adult at home, shows
# that it was given, and nothing of how.
GIVES: Mapping[str, frozenset[str]] = MappingProxyType(
    {
        "typed": frozenset(),
        "said": frozenset(),
        "heard": frozenset({HEARD}),
        "glimpsed": frozenset({GLIMPSED}),
        "made": frozenset({MADE}),
        "drawn": frozenset({MADE, WRITTEN}),
        "written": frozenset({WRITTEN}),
        "voice": frozenset({HEARD}),
        "clip": frozenset({HEARD, MADE}),
        "photo": frozenset({MADE, WRITTEN}),
        "page": frozenset({WRITTEN}),
    }
)
COUNT_HEARD = re.compile(r"heard (to|past) (\d{1,3})")

# A picture is to be seen for two seconds, and no second time; a slow phone covers it a little late.
GLIMPSE, GLIMPSED_AT_MOST = 2000, 3000  # milliseconds


def is_glimpse(milliseconds: int | None) -> bool:
    """Tell whether a picture that was covered after so long was only glimpsed.

    >>> is_glimpse(2040), is_glimpse(4080), is_glimpse(None)
    (True, False, False)
    """
    return milliseconds is not None and milliseconds <= GLIMPSED_AT_MOST


@dataclass(frozen=True, slots=True)
class Seen:
    """What was seen: the `WAYS`, and the number a count was heard to reach, 0 for none.

    anything: whether there was anything to see, were it only an answer that was typed.
    """

    ways: frozenset[str] = frozenset()
    heard_to: int = 0
    anything: bool = True


def read_seen(words: Iterable[str]) -> Seen:
    """Read what was seen. Raises ValueError naming the word that is none.

    >>> read_seen(["typed", "heard past 20"]).heard_to, sorted(read_seen(["clip"]).ways)
    (21, ['heard', 'made'])
    """
    ways: set[str] = set()
    heard_to = 0
    listed = tuple(words)
    for word in listed:
        counted = COUNT_HEARD.fullmatch(word)
        if counted:
            heard_to = max(heard_to, int(counted[2]) + (counted[1] == "past"))
            ways.add(HEARD)
        elif word in GIVES:
            ways |= GIVES[word]
        else:
            known = ", ".join(GIVES)
            raise ValueError(f"seen: {word!r} is none of {known}, heard to N, heard past N")
    return Seen(frozenset(ways), heard_to, bool(listed))
