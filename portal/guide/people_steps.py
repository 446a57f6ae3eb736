"""First steps on accounts, rosters and invitations."""

from collections.abc import Iterator

from django.urls import reverse
from django.utils.translation import gettext as _

from portal.guide.steps import FAMILY, Newcomer, Step
from portal.people.models import Child, Closure, Event, SchoolYear, StaffPost

ROLE = StaffPost.Role
What = Event.What


def steps(who: Newcomer) -> Iterator[Step]:
    """Yield those of *who*'s role."""
    if who.role == FAMILY:
        confirmed = who.user.email_confirmed_at is not None
        yield Step(10, _("Confirm your e-mail address"), reverse("people:confirm"), confirmed)
    if who.role in (ROLE.LEAD, ROLE.OFFICE):
        yield from school_steps(who)


def school_steps(who: Newcomer) -> Iterator[Step]:
    """Yield what a school needs before its first card, each ticked whoever did it.

    In the order in which each can be done: holidays, children and posts belong to a year's classes.
    """
    schools = {post.school_id for post in who.user.posts_held}
    years = SchoolYear.objects.filter(school__in=schools).exists()
    yield Step(10, _("Check the school year and its classes"), reverse("people:years"), years)
    yield closures_step(who)
    children = Child.objects.filter(school__in=schools)
    file = reverse("people:roster-import")
    yield Step(30, _("Bring in a roster file"), file, children.exists())
    if who.role == ROLE.LEAD:
        others = StaffPost.objects.active().filter(school__in=schools).exclude(user=who.user)
        staff = reverse("people:staff")
        yield Step(40, _("Add somebody who works here"), staff, others.exists())
    alone = children.filter(invitations=None, guardianships=None)
    invited = children.exists() and not alone.exists()
    classes = reverse("people:classes")
    yield Step(50, _("Print slips that invite families"), classes, invited)
    if who.role == ROLE.LEAD:
        rules = reverse("privacy:rules")
        yield Step(60, _("Choose how long things are kept"), rules, did(who, What.RULE_CHANGED))


def closures_step(who: Newcomer) -> Step:
    """Return the step to enter holidays: ticked while any lie ahead, whoever entered them."""
    schools = {post.school for post in who.user.posts_held}
    ahead = (Closure.objects.filter(school=each, last__gte=each.today()) for each in schools)
    entered = any(rows.exists() for rows in ahead)
    words = _("Enter holidays and training days: none is assumed, Christmas neither")
    return Step(20, words, reverse("people:closures"), entered)


def did(who: Newcomer, what: str) -> bool:
    """Whether *who* has done *what* since then."""
    events = Event.objects.filter(who=who.user.pk, what=what, at__gte=who.since)
    return events.exists()
