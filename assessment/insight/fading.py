"""How what a child needs fades with time: the one rule, for goals, mistakes and groups alike.

What was seen a half-life ago counts half. A focus lasts one to two weeks and is met again some
weeks later, so that after a fortnight the class is on to other work, and after three half-lives,
about half a term, nobody knows any longer whether what was hard then is hard now: it is a need no
more, only something to see again. The days of a holiday count like any others, as children
change in them too. Common practice, no source.
"""

from datetime import date, timedelta

HALF_LIFE = timedelta(weeks=2)
FADED_AFTER = 3  # half-lives: an eighth is left
LOOKED_BACK = FADED_AFTER * HALF_LIFE


def half_lives(on: date, today: date) -> int:
    """Return how many whole half-lives lie between *on* and *today*; 0 for a day still to come.

    >>> half_lives(date(2026, 11, 2), date(2026, 11, 20))
    1
    """
    return max(today - on, timedelta()) // HALF_LIFE


def has_faded(on: date | None, today: date) -> bool:
    """Tell whether what was seen *on* a day, or never, is no need on *today* any more."""
    return on is None or half_lives(on, today) >= FADED_AFTER
