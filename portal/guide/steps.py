"""Which first steps there are for whom; the apps add theirs by functions named in settings."""

import datetime as dt
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from django.conf import settings
from django.utils.functional import Promise
from django.utils.module_loading import import_string

from portal.people.models import SchoolClass, StaffPost, User

FAMILY = "family"
# Who holds several posts is shown the steps of the one that leads furthest.
WEIGHTIEST = (
    StaffPost.Role.LEAD,
    StaffPost.Role.TEACHER,
    StaffPost.Role.ASSISTANT,
    StaffPost.Role.OFFICE,
)


@dataclass(frozen=True)
class Step:
    """One first step: its place in the row, its words, where it leads, and whether it is done."""

    place: int
    words: str | Promise
    url: str
    done: bool


@dataclass(frozen=True)
class Newcomer:
    """Somebody who is shown first steps: their role, since when, and the class they begin with."""

    user: User
    role: str
    since: dt.datetime
    school_class: SchoolClass | None

    def has(self, rows: Any, **when: str) -> bool:
        """Whether there is any of *rows* since then; when: which fields hold person and time."""
        field, at = next(iter(when.items()))
        return bool(rows.filter(**{field: self.user, f"{at}__gte": self.since}).exists())


def steps_for(user: User) -> list[Step]:
    """Return the first steps of *user* in order; none once they were put away or all done."""
    if user.first_steps_since is None:
        return []
    role = role_of(user)
    taught = None if role == FAMILY else SchoolClass.objects.taught_by(user).first()
    who = Newcomer(user, role, user.first_steps_since, taught)
    found: list[Step] = sorted(all_steps(who), key=lambda step: step.place)
    return [] if all(step.done for step in found) else found


def all_steps(who: Newcomer) -> Iterator[Step]:
    """Yield what each app has of first steps for *who*."""
    for path in settings.FIRST_STEPS:
        steps: Callable[[Newcomer], Iterator[Step]] = import_string(path)
        yield from steps(who)


def role_of(user: User) -> str:
    """Return the role that decides the first steps."""
    roles = {post.role for post in user.posts_held}
    return next((role for role in WEIGHTIEST if role in roles), FAMILY)
