"""What families are told of a reply, on pages that know nothing of looking: {% load replies %}."""

from collections.abc import Iterable

from django import template
from django.db.models import prefetch_related_objects

from assessment.looks.came_back import has_news, newest_replies
from assessment.looks.ready_made import said_here
from assessment.looks.requests_for_more import asked_of, still_asked
from assessment.models import Look, VoiceReply
from evidence.models import Submission
from portal.people.asking import Asker
from portal.people.models import Child
from tasks.cards.languages import unlike_page

register = template.Library()


@register.simple_tag
def voice_to(submission: Submission) -> VoiceReply | None:
    """Return the spoken reply to *submission* that its home hears; reads rows fetched before."""
    heard = (each for each in submission.voice_replies.all() if each.is_told)
    return next(heard, None)


@register.simple_tag
def said_to_family(look: Look) -> dict[str, tuple[str, str]]:
    """Return the reply and the next step of *look*, each with its language unless the page's."""
    child = look.submission.child
    read = look.for_family
    said = {name: said_here(getattr(read, name), child) for name in ("reply", "next_step")}
    return {name: (words, unlike_page(lang)) for name, (words, lang) in said.items()}


@register.simple_tag
def is_asked_more(submission: Submission) -> bool:
    """Whether the look at *submission* asks for one more, and none came since."""
    return still_asked(Look.objects.filter(submission=submission)).exists()


@register.simple_tag
def asked_more_of(user: Asker, child: Child | None = None) -> list[Look]:
    """List what the home of *user* is asked for one more of; of *child* alone, if given."""
    return list(asked_of(user, [child] if child else None))


@register.simple_tag
def came_back_to(user: Asker, child: Child) -> Submission | None:
    """Return the work of *child* whose reply comes first on its card; None before any came."""
    return newest_replies(user).get(child.pk)


@register.simple_tag
def fetch_replies(works: Iterable[Submission]) -> str:
    """Fetch the looks at all of *works*, rows that a page has read, before one is asked for."""
    prefetch_related_objects(list(works), "look")
    return ""


@register.simple_tag
def is_something_new(user: Asker) -> bool:
    """Whether a reply came that the home of *user* has not opened yet."""
    return has_news(user)
