"""Ready-made replies and next steps: staff pick one, each family reads it in its language."""

import re

from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop

from assessment.day_parts import title_of
from portal.people.models import Child
from tasks.cards.languages import ENGLISH, page_language, phrase_in
from tasks.numberwork import KINDS

CHILD, TASK = "{child}", "{task}"
# To start from. Praise is about the work. Common practice, no source.
STARTERS = (
    gettext_noop("You worked that out step by step, {child}. How did you check?"),
    gettext_noop("I can see how you did the {task}, {child}. Show somebody how you know!"),
    gettext_noop("Nearly, {child}. Do it once more with things you can touch, one at a time."),
    gettext_noop("You tried a new way, {child}. Which way do you like better, and why?"),
    gettext_noop("Thank you, {child}. Say the number sentence aloud when you do it again."),
)
NEXT_STEPS = (
    gettext_noop("Do one more with things you can touch."),
    gettext_noop("Try the same with bigger numbers."),
    gettext_noop("Show it in another way."),
    gettext_noop("Tell it as a story."),
    gettext_noop("Teach somebody at home how you did it."),
)
ANY_WORK = gettext_noop("number work")


def filled(text: str, child: Child, kinds: list[str]) -> str:
    """Put the child's first name for {child} in *text*, and the work of *kinds* for {task}.

    kinds: the weightiest first; none gives "number work".
    """
    return text.replace(CHILD, child.first_name).replace(TASK, named(kinds))


def named(kinds: list[str]) -> str:
    """Return the work of the first of *kinds* as it stands within a sentence.

    >>> named(["can-it-be-halved"]), named(["adding", "halving"])
    ('two equal groups', 'adding')
    """
    return _in_sentence(title_of(kinds[0])) if kinds else ANY_WORK


def said_here(text: str, child: Child) -> tuple[str, str]:
    """Return *text*, said to *child*, in the page's language if it is ready made, and its language.

    What a person wrote or changed stays as it was written, in English.
    """
    here = page_language()
    if here == ENGLISH:
        return text, ENGLISH
    if text in NEXT_STEPS:
        return _(text), here
    for starter in STARTERS:
        shape = re.escape(starter).replace(re.escape(CHILD), re.escape(child.first_name))
        found = re.fullmatch(shape.replace(re.escape(TASK), "(?P<task>.+)"), text)
        task = _task_here(found["task"], here) if found and TASK in starter else ""
        if found and task is not None:
            return _(starter).replace(CHILD, child.first_name).replace(TASK, task), here
    return text, ENGLISH


def _in_sentence(title: str) -> str:
    """Write the title of a kind as it stands within a sentence."""
    title = title.rstrip("?؟")
    return title[:1].lower() + title[1:]


def _task_here(task: str, here: str) -> str | None:
    """Name in the language *here* the work that named() gave as *task*; None for other words."""
    if task == ANY_WORK:
        return _(ANY_WORK)
    titles = (kind.title for kind in KINDS.values() if _in_sentence(kind.title) == task)
    return next((_in_sentence(phrase_in(title, here)[0]) for title in titles), None)
