"""First steps on accounts, rosters and invitations."""

from collections.abc import Iterator

from django.urls import reverse
from django.utils.translation import gettext as _

from portal.guide.steps import FAMILY, Newcomer, Step
from portal.people.models import Closure, Event, StaffPost

ROLE = StaffPost.Role
What = Event.What


def steps(who: Newcomer) -> Iterator[Step]:
    """Yield those of *who*'s role."""
    if who.role == FAMILY:
        confirmed = who.user.email_confirmed_at is not None
        yield Step(10, _("Confirm your e-mail address"), reverse("people:confirm"), confirmed)
    if who.role == ROLE.OFFICE:
        years = reverse("people:years")
        yield Step(10, _("Check the school year and its classes"), years, did(who, What.YEAR_MADE))
        file = reverse("people:roster-import")
        yield Step(20, _("Bring in a roster file"), file, did(who, What.ROSTER_APPLIED))
        yield closures_step(who)
        classes = reverse("people:classes")
        yield Step(30, _("Put a child on the roster"), classes, did(who, What.CHILD_CHANGED))
        yield Step(40, _("Print slips that invite families"), classes, did(who, What.INVITED))
    if who.role == ROLE.LEAD:
        staff = reverse("people:staff")
        yield Step(10, _("Add somebody who works here"), staff, did(who, What.STAFF_ADDED))
        file = reverse("people:roster-import")
        yield Step(20, _("Bring in a roster file"), file, did(who, What.ROSTER_APPLIED))
        yield closures_step(who)
        rules = reverse("privacy:rules")
        yield Step(30, _("Choose how long things are kept"), rules, did(who, What.RULE_CHANGED))


def closures_step(who: Newcomer) -> Step:
    """Return the step to enter holidays: ticked while any lie ahead, whoever entered them."""
    schools = {post.school for post in who.user.posts_held}
    ahead = (Closure.objects.filter(school=each, last__gte=each.today()) for each in schools)
    entered = any(rows.exists() for rows in ahead)
    words = _("Enter holidays and training days: none is assumed, Christmas neither")
    return Step(25, words, reverse("people:closures"), entered)


def did(who: Newcomer, what: str) -> bool:
    """Whether *who* has done *what* since then."""
    events = Event.objects.filter(who=who.user.pk, what=what, at__gte=who.since)
    return events.exists()
