"""Taking the last roster file back: all of it, or nothing when something has come of it since."""

from collections.abc import Callable
from typing import Any

from django.db import models, transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from portal.people.models import (
    Child,
    Closure,
    Group,
    Guardianship,
    Home,
    Invitation,
    RosterRun,
    School,
    SchoolClass,
)
from portal.people.roster_import.models import UNDO_LIFE
from portal.people.school.moving_up import place_children

Change = dict[str, Any]


class CannotUndoError(Exception):
    """Something has come of the file since; the message says what."""


def last_run(school: School) -> RosterRun | None:
    """Return the run of *school* that can be undone: the last, if it was not long ago."""
    last = school.roster_runs.filter(applied_at__isnull=False).order_by("-applied_at").first()
    recent = last and last.applied_at > timezone.now() - UNDO_LIFE
    return last if recent and last.state == RosterRun.State.APPLIED else None


@transaction.atomic
def undo_run(run: RosterRun) -> None:
    """Take back all that *run* changed, the last change first. Raises CannotUndoError."""
    school = School.objects.select_for_update().get(pk=run.school_id)
    last = last_run(school)
    if last is None or last.pk != run.pk:
        raise CannotUndoError(_("Only the last file can be undone, and for 14 days."))
    for change in reversed(last.changes):
        UNDO[change["what"]](change)
    RosterRun.objects.filter(pk=run.pk).update(
        state=RosterRun.State.UNDONE, undone_at=timezone.now(), changes=[]
    )


def undo_closure(change: Change) -> None:
    """Open the school again on days that the file closed."""
    Closure.objects.filter(pk=change["pk"]).delete()


def undo_class(change: Change) -> None:
    """Take a class away, unless something hangs on it: an empty class does no harm."""
    made = SchoolClass.objects.filter(pk=change["pk"]).first()
    if made and not hangs_on(made):
        made.delete()


def undo_home(change: Change) -> None:
    """Take a home away, unless something hangs on it."""
    made = Home.objects.filter(pk=change["pk"]).first()
    if made and not hangs_on(made) and not made.children.exists():
        made.delete()


def undo_address(change: Change) -> None:
    """Give a home the address it had."""
    home = Home.objects.filter(pk=change["home"], address_key=change["after"])
    home.update(address_key=change["before"])


def undo_child(change: Change) -> None:
    """Remove a child the file brought in. Raises CannotUndoError if anything is theirs."""
    child = Child.objects.filter(pk=change["pk"]).first()
    if child is None:
        return
    if hangs_on(child, besides={Group, Home}):
        words = _("%(name)s has come in since, or has sent something. Nothing was undone.")
        raise CannotUndoError(words % {"name": child})
    child.delete()


def undo_named(change: Change) -> None:
    """Spell a child's name as before."""
    before = change["before"]
    Child.objects.filter(pk=change["child"]).update(
        first_name=before["name"][0], initial=before["name"][1], office_key=before["key"]
    )


def undo_placed(change: Change) -> None:
    """Put a child back into class and groups. Raises CannotUndoError for one moved since."""
    child = Child.objects.filter(pk=change["child"]).first()
    if child is None:
        return
    if child.school_class_id != change["after"]:
        words = _("%(name)s was moved again since. Nothing was undone.")
        raise CannotUndoError(words % {"name": child})
    place_children([child.pk], SchoolClass.objects.filter(pk=change["before"]).first())
    child.groups.add(*Group.objects.filter(pk__in=change["groups"]))


def undo_lives(change: Change) -> None:
    """Take a child out of a home."""
    if home := Home.objects.filter(pk=change["home"]).first():
        home.children.remove(change["child"])


def undo_joined(change: Change) -> None:
    """Take away that an adult of a sister or brother sees a child too."""
    Guardianship.objects.filter(pk=change["pk"]).delete()


def undo_moved_home(change: Change) -> None:
    """Put an adult back into the home of before."""
    moved = Guardianship.objects.filter(pk=change["pk"], home=change["after"])
    if before := Home.objects.filter(pk=change["before"]).first():
        moved.update(home=before)


def undo_invited(change: Change) -> None:
    """Take an invitation away. Raises CannotUndoError when somebody has come in by it."""
    invitation = Invitation.objects.filter(pk=change["pk"]).select_related("child").first()
    if invitation and invitation.used_at:
        words = _("An adult of %(name)s has come in since. Nothing was undone.")
        raise CannotUndoError(words % {"name": invitation.child})
    if invitation:
        invitation.delete()


UNDO: dict[str, Callable[[Change], None]] = {
    "closure": undo_closure,
    "class": undo_class,
    "home": undo_home,
    "address": undo_address,
    "child": undo_child,
    "named": undo_named,
    "placed": undo_placed,
    "lives": undo_lives,
    "joined": undo_joined,
    "moved home": undo_moved_home,
    "invited": undo_invited,
}


def hangs_on(row: models.Model, besides: set[type[models.Model]] = frozenset()) -> bool:
    """Whether any row of any app points at *row*, apart from those of the models *besides*."""
    return any(
        relation.related_model._default_manager.filter(**{relation.field.name: row}).exists()
        for relation in row._meta.related_objects
        if relation.related_model not in besides
    )
