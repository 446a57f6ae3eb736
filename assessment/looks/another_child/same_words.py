"""Saying the same of a picture to each child whose work it shows."""

import logging
import re
from dataclasses import replace

from assessment.looks.another_child.placing import shared_with
from assessment.looks.look_context import Reading
from assessment.looks.looking import LookData, LookedMeanwhileError, WithdrawnError, save_look
from assessment.looks.ready_made import CHILD, DONE, filled
from assessment.models import Look
from portal.people.models import User

log = logging.getLogger(__name__)


def say_to_others(reading: Reading, user: User, saying: LookData) -> None:
    """Save what is said of *reading* for the other children whose work shows the same picture.

    Each reads its own name, and nothing that the first one typed. What is drawn over the picture
    stays with the first. Work that somebody else looks at this moment keeps what they say.
    """
    name = rf"\b{re.escape(reading.submission.child.first_name)}\b"
    for other in shared_with(reading.submission):
        words = saying.reply
        if reading.done:
            words = words.replace(reading.done, DONE)
        reply = filled(re.sub(name, CHILD, words), other.child, reading.kinds)
        step = filled(re.sub(name, CHILD, saying.next_step), other.child, reading.kinds)
        told = replace(saying, reply=reply, next_step=step, strokes=None)
        before = Look.objects.filter(submission=other).first()
        try:
            save_look(other, user, told, before.version if before else 0)
        except (LookedMeanwhileError, WithdrawnError):
            log.info("work that shows the same picture has a look of its own by now")
