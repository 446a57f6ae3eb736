"""What is new on a day of a sequence, in the few words that a card has room for."""

import re

from django.utils.translation import gettext as _

from tasks.cards.wording import EXPLAINED
from tasks.models import Task
from tasks.numberwork import DEPTHS, kind_kept
from tasks.numberwork.sequences.only import Only

MOST = 2  # things that are said of one day


def news(task: Task, before: Task | None, *, is_first: bool) -> list[str]:
    """Return what the main task adds to *before*, the last one of its kind: at most two things.

    Without one its kind is new, which is said unless it *is_first* of all days.
    """
    if before is None:
        return [] if is_first else [_("%(kind)s now") % {"kind": task.title}]
    found = [_explained(task, before), _pictures(task, before), _numbers(task, before)]
    found += [_forms(task, before)]
    return [each for each in found if each][:MOST] or [_depth(task, before)]


def _explained(task: Task, before: Task) -> str:
    explains = [each.words == str(EXPLAINED) for each in (task, before)]
    return _("“How do you know?”") if explains == [True, False] else ""


def _pictures(task: Task, before: Task) -> str:
    """Say that pictures come or go, or are of another sort."""
    has, had = _sorts_of_pictures(task), _sorts_of_pictures(before)
    if bool(has) != bool(had):
        return _("pictures now") if has else _("without pictures now")
    return "" if has & had or not has else _("another picture now")


def _sorts_of_pictures(task: Task) -> set[str]:
    return {
        picture.get("picture") for row in task.prompts.all() if (picture := row.kept("picture"))
    }


def _numbers(task: Task, before: Task) -> str:
    """Say how far the numbers go, where that is not as it was."""
    now, then = Only.read(task.only), Only.read(before.only)
    most, had = (only.most or each.within for only, each in ((now, task), (then, before)))
    if now.least > then.least:
        return _("%(least)s to %(most)s now") % {"least": now.least, "most": most}
    if most == had:
        return ""
    return (_("to %(most)s now") if most > had else _("to %(most)s again")) % {"most": most}


def _forms(task: Task, before: Task) -> str:
    """Name the first way of asking that the prompts had not before, in the kind's first words."""
    had = {row.kept("form") for row in before.prompts.all()}
    words = kind_kept(task.kind).forms
    new = [form for row in task.prompts.all() if (form := row.kept("form")) not in had]
    named = [words[form] for form in new if form in words]
    said = re.split("[:;,]", named[0])[0] if named else ""
    return said[:1].lower() + said[1:]


def _depth(task: Task, before: Task) -> str:
    """Say that it is harder or easier where nothing else is new."""
    steps = DEPTHS.index(task.depth) - DEPTHS.index(before.depth)
    if steps == 0:
        return _("other questions")
    return _("harder now") if steps > 0 else _("easier again")
