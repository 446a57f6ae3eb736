"""Looking at what came in: what waits next, saving a look, and undoing that.

Two people may look at the same piece. The submission's row is locked while a look is changed,
and a change names the version it was made on: on any other nothing is stored.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from django.db import transaction
from django.db.models import Q
from django.utils import timezone

from assessment.models import Look, PastLook, Tag
from evidence.models import Submission, SubmissionQuerySet
from portal.people.models import SchoolClass, User


class LookedMeanwhileError(Exception):
    """Somebody changed the look since the form was opened. Nothing was stored."""

    def __init__(self, look: Look | None) -> None:
        super().__init__("the look was changed in the meantime")
        self.look = look


class WithdrawnError(Exception):
    """The family took the submission back meanwhile. Nothing was stored."""


@dataclass(frozen=True)
class LookData:
    """What a look says: words for the child, the next step, and how each goal was shown.

    tags: from a goal's key to one of Tag.How. asks_more: whether the family is to send one more.
    strokes: what is drawn over each picture, as `read_strokes` gives it; None leaves it as it is.
    """

    reply: str = ""
    next_step: str = ""
    tags: Mapping[int, str] = field(default_factory=dict)
    asks_more: bool = False
    strokes: Mapping[str, Any] | None = None


def waiting_in(school_class: SchoolClass, user: User) -> SubmissionQuerySet:
    """Return what waits for a look in *school_class*, oldest first."""
    own = Submission.objects.taught_by(user).filter(child__school_class=school_class)
    return own.not_yet_looked_at()


def next_waiting(
    school_class: SchoolClass, user: User, after: Submission | None = None
) -> Submission | None:
    """Return what to look at next: the oldest that came after *after*, else the oldest of all."""
    waiting = waiting_in(school_class, user)
    if after is None:
        return waiting.first()
    later = Q(sent_at__gt=after.sent_at) | Q(sent_at=after.sent_at, pk__gt=after.pk)
    return waiting.filter(later).first() or waiting.exclude(pk=after.pk).first()


@transaction.atomic
def save_look(submission: Submission, user: User, saying: LookData, seen_version: int) -> Look:
    """Store what *user* made of *submission*, and let the family read the reply.

    seen_version: the version of the look that *user* had on screen, 0 for none.
    Raises LookedMeanwhileError and WithdrawnError.
    """
    locked = _hold(submission)
    look = _seen(locked, seen_version)
    now = timezone.now()
    if look is None:
        look = Look(submission=locked, version=0)
    else:
        _keep_past(look)
    read = _read(look)
    look.reply, look.next_step = saying.reply, saying.next_step
    if saying.strokes is not None:
        look.strokes = dict(saying.strokes)
    if look.stands and _read(look) != read:
        locked.said_at = now
    look.asked_more_at = (look.asked_more_at or now) if saying.asks_more else None
    look.looked_by, look.looked_at = user, now
    look.version += 1
    look.save()
    _store_tags(locked, user, saying.tags)
    if not locked.is_answered:
        locked.looked_at, locked.opened_at = now, None
    locked.save(update_fields=["looked_at", "said_at", "opened_at"])
    return look


@transaction.atomic
def undo_look(submission: Submission, seen_version: int) -> bool:
    """Put the look back to what it was before the last change, and tell whether it stands.

    Undoing the first save takes the look back: the submission waits again, what was typed
    is kept for the form. Raises LookedMeanwhileError when the last change is not the one seen.
    """
    locked = _hold(submission)
    look = _seen(locked, seen_version)
    before = look.past.filter(version=look.version - 1).first() if look else None
    if look is None or before is None:
        return take_back_look(locked, seen_version)
    _keep_past(look)
    if look.is_told and _read(look) != _read(before):
        locked.opened_at = None
    locked.said_at = before.said_at
    look.reply, look.next_step, look.strokes = _read(before)
    look.asked_more_at = before.asked_more_at
    look.looked_by, look.looked_at = before.looked_by, before.looked_at
    look.version += 1
    look.save()
    if before.stood:
        _restore_tags(locked, before)
    else:
        locked.tags.all().delete()
    locked.looked_at = (locked.looked_at or before.looked_at) if before.stood else None
    locked.save(update_fields=["looked_at", "said_at", "opened_at"])
    return before.stood


@transaction.atomic
def take_back_look(submission: Submission, seen_version: int) -> bool:
    """Let *submission* wait again. Its words stay with it; its tags are kept in the past look.

    Raises LookedMeanwhileError. Gives False: that it does not stand.
    """
    locked = _hold(submission)
    look = _seen(locked, seen_version)
    if look is not None and look.stands:
        _keep_past(look)
        Look.objects.filter(pk=look.pk).update(version=look.version + 1)
        locked.tags.all().delete()
        locked.looked_at = None
        locked.save(update_fields=["looked_at"])
    return False


def tags_to_show(submission: Submission, look: Look | None) -> dict[int, str]:
    """Return how each goal is tagged, by the goal's key; for a look taken back, as it was."""
    standing = {tag.goal_id: tag.how for tag in submission.tags.all()}
    if standing or look is None or submission.looked_at is not None:
        return standing
    before = look.past.filter(stood=True).last()
    return {goal: how for goal, how, *_whose in before.tags} if before else {}


def _hold(submission: Submission) -> Submission:
    locked = Submission.objects.select_for_update().get(pk=submission.pk)
    if locked.withdrawn_at is not None:
        raise WithdrawnError
    return locked


def _seen(locked: Submission, seen_version: int) -> Look | None:
    look = Look.objects.select_related("looked_by").filter(submission=locked).first()
    if look is not None:
        look.submission = locked
    if (look.version if look else 0) != seen_version:
        raise LookedMeanwhileError(look)
    return look


def _read(look: Look | PastLook) -> tuple[str, str, dict[str, Any]]:
    """Return what the family reads and sees."""
    return look.reply, look.next_step, look.strokes


def _keep_past(look: Look) -> None:
    PastLook.objects.create(
        look=look,
        version=look.version,
        looked_by=look.looked_by,
        looked_at=look.looked_at,
        stood=look.stands,
        reply=look.reply,
        next_step=look.next_step,
        asked_more_at=look.asked_more_at,
        strokes=look.strokes,
        said_at=look.submission.said_at,
        tags=[
            [tag.goal_id, tag.how, tag.tagged_by_id, tag.by_assistant]
            for tag in look.submission.tags.all()
        ],
    )


def _store_tags(locked: Submission, user: User, wanted: Mapping[int, str]) -> None:
    """Make the tags say *wanted*; one that says so already stays whose it was."""
    same = {tag.goal_id for tag in locked.tags.all() if wanted.get(tag.goal_id) == tag.how}
    locked.tags.exclude(goal__in=same).delete()
    by_assistant = not SchoolClass.objects.run_by(user).filter(children=locked.child_id).exists()
    Tag.objects.bulk_create(
        Tag.on(locked, goal, how, tagged_by=user, by_assistant=by_assistant)
        for goal, how in wanted.items()
        if goal not in same
    )


def _restore_tags(locked: Submission, before: PastLook) -> None:
    locked.tags.all().delete()
    authors = [author for _goal, _how, author, _by_assistant in before.tags]
    known = set(User.objects.filter(pk__in=authors).values_list("pk", flat=True))
    Tag.objects.bulk_create(
        Tag.on(
            locked,
            goal,
            how,
            tagged_by_id=author if author in known else None,
            by_assistant=by_assistant,
            tagged_at=before.looked_at,
        )
        for goal, how, author, by_assistant in before.tags
    )
