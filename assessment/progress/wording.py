"""What evidence, gaps, mistakes and reasons are called on screen: facts, never a level."""

from collections.abc import Iterable
from typing import Any

from django.utils.formats import date_format
from django.utils.translation import gettext_lazy as _
from django.utils.translation import ngettext

from assessment.day_parts import title_of
from assessment.insight.counting_out import CountsOut, HowSure
from assessment.insight.gaps import GoalGap
from assessment.insight.mistakes import Course
from assessment.insight.needs import Need, Reason
from assessment.insight.rows import How
from assessment.insight.strength import Missing, Seen, Strength
from assessment.models import Tag
from assessment.progress.mistakes import sentence_of

OFTEN: dict[int, Any] = {1: _("once"), 2: _("twice")}
MISSING: dict[str, Any] = {
    Missing.ANY: _("a first piece of work"),
    Missing.UNAIDED: _("the same without help"),
    Missing.DAYS: _("another day"),
    Missing.VARIETY: _("another kind of work, or a new situation"),
    Missing.SETTLING: _("work that settles what is mixed"),
    Missing.LATELY: _("something from the last weeks"),
}
COURSES: dict[str, Any] = {
    Course.SEEN: _("seen"),
    Course.KEEPS_COMING: _("keeps coming"),
    Course.GONE: _("gone"),
}
REASONS: dict[str, Any] = {
    Reason.OWN_STEPS: _("Each has their own next step:"),
    Reason.GOING_ON: _("Nothing is open: go on together."),
}
HOW = dict(Tag.How.choices)
UP_TO = _("Counts things out reliably up to %(number)s")
NO_NUMBER_YET = _("Counts out no number reliably so far")
SURE: dict[str, Any] = {
    HowSure.SURE: _("%(said)s: that is sure."),
    HowSure.FAIRLY: _("%(said)s: that is fairly sure."),
}
NOT_YET_KNOWN = _(
    "Not yet known: ask for small and larger numbers, up to 6 or more, each of them three times, "
    "and have them counted again to check."
)


def found_words(found: Strength) -> str:
    """Say how often a goal was shown in each way, and when it was the last time."""
    if not found.latest:
        return str(_("nothing tagged yet"))
    counts = (found.not_yet, found.with_support, found.independently, found.in_a_new_situation)
    ways = ", ".join(
        f"{HOW[how]} {often(count)}" for how, count in zip(How, counts, strict=True) if count
    )
    day = date_format(found.latest[-1].on, "j M")
    return str(_("%(ways)s; last on %(day)s")) % {"ways": ways, "day": day}


def often(count: int) -> str:
    """Say how often something was."""
    return str(OFTEN.get(count) or _("%(count)s times") % {"count": count})


def times_words(times: Iterable[Seen]) -> str:
    """Say of each time that a goal was tagged when that was and how it was shown."""
    return ", ".join(f"{date_format(one.on, 'j M')} {HOW[one.how]}" for one in times)


def missing_words(missing: Iterable[str]) -> str:
    """List what would make evidence stronger."""
    return "; ".join(str(MISSING[one]) for one in missing)


def gap_counts(gap: GoalGap) -> str:
    """Say how many children of a class have shown a goal, and how many were never asked."""
    shown, never = len(gap.have_shown), len(gap.never_asked)
    said = ngettext(
        "%(shown)d of %(all)d has shown this", "%(shown)d of %(all)d have shown this", shown
    ) % {"shown": shown, "all": gap.children}
    if not never:
        return f"{said}."
    asked = ngettext("%(never)d was never asked", "%(never)d were never asked", never)
    return f"{said}; {asked % {'never': never}}."


def need_words(need: Need, labels: dict[str, str]) -> str:
    """Say what a need or a group is about; *labels*: each goal's statement by its code."""
    if need.reason == Reason.MISTAKE:
        return sentence_of(need.mistake)
    if need.reason == Reason.GOAL:
        return str(_("Not yet, or not always, alone: %(goal)s")) % {"goal": labels[need.name]}
    if need.reason == Reason.SEE_MORE:
        return str(_("To see more of: %(goal)s")) % {"goal": labels[need.name]}
    return str(REASONS[need.reason])


def counting_out_words(found: CountsOut) -> str:
    """Say up to which number things are counted out reliably, how sure that is, and from what."""
    counts = str(_("%(right)s of %(trials)s times it was the number asked for.")) % {
        "right": found.right,
        "trials": found.trials,
    }
    if found.up_to is None:
        return f"{NOT_YET_KNOWN} {counts}"
    said = UP_TO if found.up_to else NO_NUMBER_YET
    sure = str(SURE[found.how_sure]) % {"said": str(said) % {"number": found.up_to}}
    return f"{sure} {counts}"


def kind_titles(kinds: Iterable[str]) -> list[tuple[str, str]]:
    """Pair each kind with its title."""
    return [(kind, title_of(kind)) for kind in kinds]
