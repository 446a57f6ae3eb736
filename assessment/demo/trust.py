"""What the invented homes agreed to, and what the log has of staff looking at their pictures."""

import datetime as dt
import random

from assessment.demo.people import Cast
from assessment.demo.story import NEVER_ASKED, SAYS_NO
from assessment.models import Look
from evidence.models import Piece
from evidence.submissions.who_looked import PIECE
from portal.data_protection.consent.wording import CURRENT
from portal.people.models import Consent, Event, Guardianship, Purpose

WHILE_LOOKING = dt.timedelta(minutes=1)


def agree(cast: Cast, chance: random.Random) -> None:
    """Have most homes answer what may be done with pictures: some not yet, and one says no."""
    silent = [cast.children[name].pk for name in NEVER_ASKED]
    for tie in Guardianship.objects.exclude(child__in=silent).select_related("child", "adult"):
        says_no = tie.child_id == cast.children[SAYS_NO].pk
        for purpose in Purpose.asked():
            if chance.random() < 0.8:
                yes = not says_no and chance.random() < 0.9
                Consent.answer(tie, purpose, given=yes, wording=CURRENT.version)


def note_who_looked(cast: Cast) -> None:
    """Write into the log that whoever replied to a piece had opened it."""
    looked_by = dict(Look.objects.values_list("submission", "looked_by"))
    looked_at = dict(Look.objects.values_list("submission", "looked_at"))
    roles = {cast.teacher.pk: Event.Role.TEACHER, cast.assistant.pk: Event.Role.ASSISTANT}
    Event.objects.bulk_create(
        Event(
            school=cast.school,
            at=looked_at[piece.submission_id] - WHILE_LOOKING,
            who=looked_by[piece.submission_id],
            role=roles[looked_by[piece.submission_id]],
            what=Event.What.MEDIA_SEEN,
            kind=PIECE,
            object_id=piece.pk,
        )
        for piece in Piece.objects.filter(submission__in=looked_by)
    )
