"""Suggesting how a goal was shown, at most, with the reason in one line. The teacher decides."""

from collections.abc import Iterable
from dataclasses import dataclass

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from assessment.frameworks.showing.asked import Asked
from assessment.frameworks.showing.rule import Bar, Suggested, suggest
from assessment.frameworks.showing.work import Work
from assessment.looks.marking import MarkedTask
from assessment.models import Tag
from tasks.numberwork import kind_kept
from tasks.numberwork.showing.facts import Facts, facts_of
from tasks.numberwork.showing.seen import GLIMPSED, Seen, is_glimpse

WHY = {
    Bar.NOT_KNOWN: gettext_lazy("what this kind can show is not known"),
    Bar.PART_ONLY: gettext_lazy("this way of asking shows only a part of it, or none"),
    Bar.BEYOND: gettext_lazy("numbers to %(reach)s; it is about numbers to %(most)s"),
    Bar.PRINTED: gettext_lazy("the picture gives support"),
    Bar.COUNTABLE: gettext_lazy("there was a number line, or something to count"),
    Bar.NOT_SEEN: gettext_lazy("nothing of it was seen"),
    Bar.NOT_GLIMPSED: gettext_lazy("the picture was not covered after two seconds"),
    Bar.NOT_HEARD: gettext_lazy("it was not heard from the child"),
    Bar.NOT_MADE: gettext_lazy("nothing made with things was seen"),
    Bar.NOT_WRITTEN: gettext_lazy("the child’s own writing was not seen"),
    Bar.NOT_HEARD_SO_FAR: gettext_lazy("no count was heard as far as %(heard_to)s"),
    Bar.SAID_TOGETHER: gettext_lazy("it is said together with an adult"),
    Bar.HELP_NOT_SAID: gettext_lazy("help not said"),
    Bar.HELPED_A_LITTLE: gettext_lazy("with a little help"),
    Bar.HELPED: gettext_lazy("done together"),
    Bar.NOT_SO_FAR: gettext_lazy("fewer than two right with numbers to %(to)s"),
    Bar.FEW: gettext_lazy("too few right answers to tell"),
    Bar.GUESSING: gettext_lazy("a guess would be right as often"),
    Bar.WRONG: gettext_lazy("too many wrong"),
}
ALONE = gettext_lazy("all alone")


@dataclass(frozen=True)
class SuggestedTag:
    """How a goal was shown at most, and why; how is "" where nothing is suggested."""

    how: str
    reason: str

    @property
    def words(self) -> str:
        """Say how shown, as staff read it; "" where nothing is suggested."""
        return str(Tag.How(self.how).label) if self.how else ""


def works_of(marked: Iterable[MarkedTask]) -> list[Work]:
    """Return what came of the answers, put together by what they can show and how it was seen.

    Only what was typed, and glimpsed, counts: what pieces show is for the teacher to see.
    """
    found: dict[tuple[Facts, Seen, str], list[bool]] = {}
    for each in marked:
        task = each.task
        words = f"{task.words} {task.say or kind_kept(task.kind).say}"
        for one in each.counted:
            ways = {GLIMPSED} if is_glimpse(one.glimpse) else set()
            key = facts_of(one.prompt, words), Seen(frozenset(ways)), one.help
            found.setdefault(key, []).append(bool(one.right))
    return [
        work_of(facts, len(rights), sum(rights), seen, help_given)
        for (facts, seen, help_given), rights in found.items()
    ]


def work_of(facts: Facts, asked: int, right: int, seen: Seen, help_given: str) -> Work:
    """Return what came of questions that can show these *facts*."""
    return Work(
        kind=facts.kind,
        form=facts.form,
        reach=facts.reach,
        asked=asked,
        right=right,
        help=help_given,
        ways=seen.ways,
        heard_to=seen.heard_to,
        needs=facts.needs,
        printed=facts.printed,
        countable=facts.countable,
        together=facts.together,
        options=facts.options,
        further=facts.further,
        known=facts.known,
        seen=seen.anything,
    )


def suggested_tag(asked: Asked, kinds: Iterable[str], works: Iterable[Work]) -> SuggestedTag | None:
    """Suggest how *works* show a goal; None where none of them is about it."""
    found = suggest(asked, tuple(kinds), works)
    return SuggestedTag(found.how, reason_of(found, asked)) if found else None


def reason_of(found: Suggested, asked: Asked) -> str:
    """Say in one line how many were right, and what is missing for it or for more."""
    count = _("%(right)s of %(all)s right") % {"right": found.right, "all": found.asked}
    if found.why is None:
        return f"{count}, {ALONE}" if found.how == Tag.How.INDEPENDENTLY else count
    why = found.why
    if why == Bar.PART_ONLY and asked.heard_to:
        why = Bar.NOT_HEARD_SO_FAR
    values = {
        "reach": found.work.reach,
        "most": asked.most,
        "heard_to": asked.heard_to,
        "to": asked.reach,
    }
    return f"{count}, {WHY[why] % values}"
