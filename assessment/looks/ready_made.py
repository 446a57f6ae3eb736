"""Ready-made replies and next steps: staff pick one, each family reads it in its language."""

import re

from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop

from assessment.day_parts import title_of
from portal.people.models import Child
from tasks.cards.languages import ENGLISH, page_language, phrase_in
from tasks.numberwork import KINDS
from tasks.numberwork.words import LANGUAGES, from_left_to_right
from tasks.numberwork.words.work_done import DID, FIGURES

CHILD, TASK, DONE = "{child}", "{task}", "{done}"
# To start from. Praise is about the work. Common practice, no source.
STARTERS = (
    gettext_noop("You worked that out step by step, {child}. How did you check?"),
    # Translators: {done} is what was found, in figures: "12 = 6 + 6"; or else the work: "halving".
    gettext_noop("{done}. Show somebody how you know, {child}!"),
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
WORKED_ON = "You worked on "  # what is put for {done} where nothing was found in figures


def filled(text: str, child: Child, kinds: list[str], done: str = "") -> str:
    """Put the child's first name for {child} in *text*, and the work of *kinds* for {task}.

    kinds: the weightiest first; none gives "number work". done: what is put for {done}, as
    `work_done` says it; without any the work is named.
    """
    said = {CHILD: child.first_name, TASK: named(kinds), DONE: done or WORKED_ON + named(kinds)}
    return re.sub(r"\{(child|task|done)\}", lambda found: said[found[0]], text)


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
        found = re.fullmatch(shape.replace(re.escape(DONE), "(?P<done>.+)"), text)
        done = _done_here(found["done"], here) if found and DONE in starter else ""
        if found and done is not None:
            return _(starter).replace(CHILD, child.first_name).replace(DONE, done), here
    return text, ENGLISH


def _done_here(done: str, here: str) -> str | None:
    """Say in the language *here* what `filled` put for {done}; None for other words."""
    if done.startswith(WORKED_ON):
        return _task_here(done.removeprefix(WORKED_ON), here)
    did, _colon, figures = done.partition(": ")
    if did not in DID.values() or not FIGURES.fullmatch(figures):
        return None
    return from_left_to_right(figures) if LANGUAGES[here].right_to_left else figures


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
