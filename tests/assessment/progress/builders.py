"""Builders for what a class has shown: tags on days of work, without the looking."""

import datetime as dt

from assessment.models import Tag
from portal.people.models import Child, User
from tests.assessment.builders import goal, send, set_day
from tests.village import MONDAY, Village


def shown(
    village: Village,
    child: Child,
    hows: str,
    code: str = "ELG-NP-3",
    kinds: tuple[str, ...] = ("halving",),
    start: dt.date = MONDAY,
    by: User | None = None,
    **more: object,
) -> list[Tag]:
    """Send a day's work for each of *hows* ("n" not yet, "s" support, "i" alone, "w" new), tagged.

    The days follow one another from *start*; a day that is set already is used again.
    """
    words = {"n": "not yet", "s": "with support", "i": "independently", "w": "in a new situation"}
    tags = []
    for place, letter in enumerate(hows):
        day = start + dt.timedelta(days=place)
        plan = village.robins.day_plans.filter(date=day).first()
        plan = plan or set_day(village.robins, day, kinds)
        work = send(child, village.first_home, plan, **{"help": "alone", **more})
        work.looked_at = work.sent_at
        work.save()
        tag = Tag.on(work, goal(code).pk, words[letter], tagged_by=by or village.people["teacher"])
        tag.save()
        tags.append(tag)
    return tags
