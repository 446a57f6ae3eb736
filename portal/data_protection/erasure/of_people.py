"""Deleting what this app has of a child, and at last of a school: for portal.data_protection."""

from typing import Any

from django.contrib.sessions.models import Session
from django.db.models import Q, QuerySet

from portal.data_protection.hooks import Erasing
from portal.people.models import (
    Child,
    Event,
    Group,
    Guardianship,
    Home,
    RosterRun,
    School,
    SchoolClass,
    StaffPost,
    User,
)


def erase(erasing: Erasing) -> None:
    """Delete the child, homes that are empty then, and accounts that open nothing else.

    Messages still to be shown may name the child, and roster files that can be undone remember
    it: both are dropped.
    """
    child = erasing.child
    adults = list(Guardianship.objects.filter(child=child).values_list("adult", flat=True))
    homes = list(homes_of(child).values_list("pk", flat=True))
    forget_in_roster_runs(child)
    drop_messages(child.school, adults)
    erasing.tombstones.append(("people.child", child.pk))
    erasing.delete(Child.objects.filter(pk=child.pk))
    empty = Home.objects.filter(pk__in=homes, children=None, guardianships=None)
    accounts = idle_accounts(User.objects.filter(pk__in=adults))
    for model, rows in (("people.home", empty), ("people.user", accounts)):
        erasing.tombstones += [(model, pk) for pk in rows.values_list("pk", flat=True)]
        erasing.delete(rows)


def homes_of(child: Child) -> QuerySet[Home]:
    """Return the homes *child* lives in, or an adult came in for."""
    found = Home.objects.filter(Q(children=child) | Q(guardianships__child=child))
    return Home.objects.filter(pk__in=found.values("pk"))


def idle_accounts(accounts: QuerySet[User]) -> QuerySet[User]:
    """Return those of *accounts* that belong to no child's home and to no post."""
    return User.objects.filter(pk__in=accounts.values("pk"), guardianships=None, posts=None)


def forget_in_roster_runs(child: Child) -> None:
    """Drop from the school's roster files what is about *child*; what was not run yet, whole."""
    runs = RosterRun.objects.filter(school=child.school_id)
    drafts = runs.filter(state=RosterRun.State.DRAFT)
    drafts.update(state=RosterRun.State.DROPPED, content=None, answers={})
    for run in runs.exclude(changes=[]):
        kept = [change for change in run.changes if not is_about(change, child.pk)]
        if len(kept) != len(run.changes):
            RosterRun.objects.filter(pk=run.pk).update(changes=kept)


def is_about(change: dict[str, Any], child_pk: int) -> bool:
    """Whether one change of a roster file is about the child *child_pk*."""
    named = change.get("child") == child_pk
    return named or (change.get("what") == "child" and change.get("pk") == child_pk)


def drop_messages(school: School, adults: list[int]) -> None:
    """Empty the sessions of the school's staff and of *adults* of messages to be shown yet.

    They may name the child. Signing in again is not needed.
    """
    staff = StaffPost.objects.active().filter(school=school).values("user")
    people = User.objects.filter(Q(pk__in=adults) | Q(pk__in=staff))
    keys = people.exclude(devices=None).values_list("devices__session_key", flat=True)
    for session in Session.objects.filter(session_key__in=list(keys)):
        data = session.get_decoded()
        if data.pop("_messages", None):
            session.session_data = Session.get_session_store_class()().encode(data)
            session.save(update_fields=["session_data"])


def close(school: School) -> None:
    """Delete *school*, which has no children left, and those who worked nowhere else."""
    staff = list(StaffPost.objects.filter(school=school).values_list("user", flat=True))
    Group.objects.filter(school_class__year__school=school).delete()
    SchoolClass.objects.filter(year__school=school).delete()
    Home.objects.filter(school=school).delete()
    events = Event.objects.filter(school=school)
    events._raw_delete(events.db)
    school.delete()
    idle_accounts(User.objects.filter(pk__in=staff)).delete()
