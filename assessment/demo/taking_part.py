"""Whether, when and how something comes from a home: each has a habit of its own.

On a good day two thirds of the class send. Some send a day or two later, some are on paper, two
have gone silent; and a day that has only begun has brought what came before breakfast was over.
"""

import datetime as dt
import random
from dataclasses import dataclass, field

from assessment.demo.story import (
    EARLY,
    KEEN,
    NOT_HEARD_FROM,
    NOT_YET_TODAY,
    ON_PAPER,
    STAYS_SILENT,
    STOPPED,
)

HABITS, HOMES_WITH_IT = (0.92, 0.72, 0.45, 0.25), (9, 12, 6, 3)  # share of days; of thirty
KEEN_HABIT = 0.95
BY_WEEKDAY = (0.85, 1.0, 1.0, 0.95, 0.75)  # Monday to Friday
LONGEST_PAUSE = 4  # school days, but for those who are not heard from
SHARE_LATE = 0.12
BEGUN = 6  # of a day that has just begun so many have come all the same


@dataclass
class Household:
    """How the home of one child takes part. last: the number of the day it last sent for."""

    name: str
    habit: float
    last: int = -1


@dataclass
class TakingPart:
    """Says of each child and day whether something comes, and when."""

    chance: random.Random
    now: dt.datetime
    homes: dict[str, Household] = field(default_factory=dict)
    begun: int = 0

    def home_of(self, name: str) -> Household:
        """Return how the home of *name* takes part, drawn at the first time of asking."""
        if name not in self.homes:
            drawn = self.chance.choices(HABITS, HOMES_WITH_IT)[0]
            self.homes[name] = Household(name, KEEN_HABIT if name in KEEN else drawn)
        return self.homes[name]

    def sends(self, name: str, day: dt.date, number: int, left: int) -> bool:
        """Whether something comes for day *number*, with *left* days out after it."""
        home = self.home_of(name)
        if not self.would_send(home, day, number, left):
            return False
        home.last = number
        return True

    def would_send(self, home: Household, day: dt.date, number: int, left: int) -> bool:
        """Whether the home sends for that day, by its place in the story and its habit."""
        drawn = self.chance.random()
        if home.name == NOT_HEARD_FROM:
            return left > STAYS_SILENT and number % 4 == 1
        if home.name in STOPPED and left <= STOPPED[home.name]:
            return False
        if home.name in ON_PAPER:
            return number % 5 == 2
        if left == 0 and home.name in NOT_YET_TODAY + EARLY:
            return home.name in EARLY
        if left == 1 and home.name in NOT_YET_TODAY:
            return True  # so that there is an answer of yesterday's to read
        if number - max(home.last, 0) >= LONGEST_PAUSE:
            return True
        return drawn < home.habit * BY_WEEKDAY[day.weekday()]

    def sent_at(self, name: str, out_at: dt.datetime, left: int) -> dt.datetime | None:
        """Return when it comes; None where that is still to come."""
        latest = self.now - dt.timedelta(minutes=self.chance.randint(4, 50))
        at = out_at + dt.timedelta(minutes=self.chance.randint(90, 720))
        if name not in NOT_YET_TODAY and self.chance.random() < SHARE_LATE:
            at += dt.timedelta(days=self.chance.randint(1, 2))
        if at <= latest:
            return at
        if name not in EARLY and (left or self.begun >= BEGUN):
            return None
        self.begun += 1
        return max(latest, out_at)
