"""The places of a sequence that can change: whole days, and the parts of them."""

import datetime as dt
from dataclasses import dataclass
from typing import Self

from django.utils.formats import date_format
from django.utils.translation import gettext as _

from tasks.models import Task


@dataclass(frozen=True, slots=True)
class Place:
    """A whole day, or one part of it; written as 2026-11-23 or 2026-11-23/main_task."""

    date: dt.date
    part: str = ""

    @classmethod
    def read(cls, text: str) -> Self:
        """Read a place as it is written. Raises ValueError for any other text."""
        date, _slash, part = text.partition("/")
        if part and part not in Task.Part.values:
            raise ValueError(f"there is no part {part!r}")
        return cls(dt.date.fromisoformat(date), part)

    def __str__(self) -> str:
        return f"{self.date}/{self.part}" if self.part else str(self.date)

    @property
    def words(self) -> str:
        """Name it for people."""
        day = date_format(self.date, "l j F")
        if not self.part:
            return day
        part = str(Task.Part(self.part).label)
        return _("%(part)s of %(day)s") % {"part": part[:1].upper() + part[1:], "day": day}

    def holds(self, task: Task) -> bool:
        """Whether *task* stands here; the versions of groups stand with the class's own."""
        return task.day_plan.date == self.date and self.part in ("", task.part)
