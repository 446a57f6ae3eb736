"""What families are told of a reply, on pages that know nothing of looking: {% load replies %}."""

from typing import Any

from django import template

from assessment.looks.requests_for_more import asked_of, still_asked
from assessment.models import Look, VoiceReply
from evidence.models import Submission
from portal.people.models import Child

register = template.Library()


@register.simple_tag
def voice_to(submission: Submission) -> VoiceReply | None:
    """Return the spoken reply to *submission* that can be heard; reads rows fetched before."""
    heard = (each for each in submission.voice_replies.all() if each.can_be_heard)
    return next(heard, None)


@register.simple_tag
def is_asked_more(submission: Submission) -> bool:
    """Whether the look at *submission* asks for one more, and none came since."""
    return still_asked(Look.objects.filter(submission=submission)).exists()


@register.simple_tag
def asked_more_of(user: Any, child: Child | None = None) -> list[Look]:
    """List what the home of *user* is asked for one more of; of *child* alone, if given."""
    return list(asked_of(user, [child] if child else None))
