"""Who may send what for whom: adults at home for their own, staff for a family without a phone."""

import hashlib
from dataclasses import dataclass, replace

from portal.people.asking import Asker
from portal.people.models import Child, Guardianship, Home, User
from tasks.models import DayPlan


@dataclass(frozen=True)
class Sender:
    """Who sends for whom and for which day, and the form it is done with (see `form_key`)."""

    user: User
    child: Child
    home: Home | None
    day_plan: DayPlan
    form_key: str
    by_staff: bool = False


def at_home(user: Asker, child: Child, plan: DayPlan, form_key: str) -> Sender | None:
    """Return *user* as the sender of work of *child*; None for somebody not at home with it."""
    if not user.is_active:
        return None
    here = Guardianship.objects.current().filter(adult=user, child=child)
    home = Home.objects.filter(guardianships__in=here).first()
    return Sender(user, child, home, plan, form_key) if home else None


def for_family(
    user: User, child: Child, home: Home | None, plan: DayPlan, form_key: str
) -> Sender | None:
    """Give *user*, of the staff, as who posts for *home* of *child*, or for none; None: may not."""
    taught = Child.objects.taught_by(user).filter(pk=child.pk).exists()
    own_home = home is None or Home.objects.of(child).filter(pk=home.pk).exists()
    return Sender(user, child, home, plan, form_key, True) if taught and own_home else None


def siblings_of(sender: Sender) -> list[Sender]:
    """List the other children at home with the sender who have work for the same day.

    Each has a form key of its own, made from the form's, so that sending twice is sending once.
    """
    if sender.by_staff:
        return []
    others = (
        Guardianship.objects.current()
        .filter(adult=sender.user, child__school_class__isnull=False)
        .exclude(child=sender.child)
        .select_related("child", "home")
        .order_by("child__first_name", "pk")
    )
    classes = [each.child.school_class_id for each in others]
    plans = DayPlan.objects.out().filter(school_class__in=classes, date=sender.day_plan.date)
    by_class = {plan.school_class_id: plan for plan in plans}
    return [
        Sender(sender.user, each.child, each.home, plan, key_for(sender.form_key, each.child.pk))
        for each in others
        if (plan := by_class.get(each.child.school_class_id or 0))
    ]


def chosen(siblings: list[Sender], children: list[str]) -> list[Sender]:
    """Return those of *siblings* whose numbers are among *children*."""
    return [each for each in siblings if str(each.child.pk) in children]


def key_for(form_key: str, what: object) -> str:
    """Return the form key that belongs to *form_key* and *what*: always the same one."""
    return hashlib.sha256(f"{form_key} for {what}".encode()).hexdigest()[:40]


def with_key(sender: Sender, form_key: str) -> Sender:
    """Return *sender* with the key of the form that came."""
    return replace(sender, form_key=form_key)
