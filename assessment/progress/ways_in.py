"""How work reaches a child's home: somebody came in, is invited, never came in, or it is paper."""

import datetime as dt
from dataclasses import dataclass
from enum import StrEnum

from django.db.models import Exists, Max, Min, OuterRef, Subquery

from assessment.insight.taking_part import WayIn
from assessment.progress.week_rows import day_at
from evidence.models import Submission
from portal.people.families.models.homes import ChildQuerySet
from portal.people.models import Child, Guardianship, Invitation, School


class Standing(StrEnum):
    """Where a home stands; each has its own next step."""

    IN = "in"
    INVITED = "invited"
    NEVER_CAME_IN = "never came in"
    ON_PAPER = "on paper"


@dataclass(frozen=True)
class HomeWay:
    """Where the home of a child stands. until: how long its invitation works, or worked."""

    standing: Standing
    way: WayIn
    until: dt.datetime | None = None


def with_ways_in(children: ChildQuerySet) -> ChildQuerySet:
    """Say of each child what `home_way` reads, in the query that fetches it."""
    adults = Guardianship.objects.filter(child=OuterRef("pk")).order_by()
    first = adults.values("child").annotate(first=Min("created_at")).values("first")
    asked = Invitation.objects.active().filter(child=OuterRef("pk")).order_by()
    until = asked.values("child").annotate(last=Max("expires_at")).values("last")
    posted = Submission.objects.active().filter(child=OuterRef("pk"), by_staff=True)
    return children.annotate(
        has_adult=Exists(adults.current()),
        came_in_at=Subquery(first),
        is_invited=Exists(asked.open()),
        invited_until=Subquery(until),
        has_posted=Exists(posted),
    )


def home_way(child: Child, school: School) -> HomeWay:
    """Read where the home of *child* stands, fetched by `with_ways_in`.

    A home for which staff have posted work, or that nobody ever invited, works on paper.
    """
    if child.has_adult:
        return HomeWay(Standing.IN, WayIn(came_in=day_at(school, child.came_in_at)))
    if child.is_invited and not child.has_posted:
        return HomeWay(Standing.INVITED, WayIn(), child.invited_until)
    if child.invited_until and not child.has_posted:
        return HomeWay(Standing.NEVER_CAME_IN, WayIn(), child.invited_until)
    return HomeWay(Standing.ON_PAPER, WayIn(on_paper=True))
