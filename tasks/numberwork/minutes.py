"""How long a day's work takes, by a plain model."""

from __future__ import annotations

WORDS_A_MINUTE = 130  # read aloud to a child, without hurry (common practice, no source)


def minutes(words: int, seconds: int) -> int:
    """Return the whole minutes, 1 or more, that reading *words* aloud and *seconds* of work take.

    >>> minutes(0, 0), minutes(130, 60), minutes(260, 395)
    (1, 2, 9)
    """
    return max(1, round(words / WORDS_A_MINUTE + seconds / 60))
