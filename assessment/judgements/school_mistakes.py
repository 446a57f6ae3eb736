"""How common each mistake is in a school, for its lead: assumed, found, and how sure."""

from dataclasses import dataclass

from django.utils.translation import gettext_lazy as _

from assessment.insight.rows import Mistake
from assessment.looks.learnt_shares import OfKind, kept_of
from assessment.models import MistakeShares
from assessment.progress.mistakes import sentence_of
from portal.people.models import School
from tasks.numberwork import kind_kept
from tasks.numberwork.mistakes.model import (
    EITHER_WAY,
    GUESSING,
    MORE,
    NEAR_BY,
    UNCLEAR,
    Key,
)
from tasks.numberwork.mistakes.shares import STRENGTH, Share
from tasks.numberwork.pool import NONE

PLAIN = {
    NONE: _("No mistake that comes back"),
    NEAR_BY: _("Slips near by"),
    EITHER_WAY: _("One off, now too few and now too many"),
    GUESSING: _("Guesses"),
    UNCLEAR: _("A way of its own that is not listed"),
    MORE: _("More than one mistake"),
}


@dataclass(frozen=True)
class Row:
    """One thing behind answers, in words, and in how many of 100 answered tasks it is."""

    words: str
    assumed: int
    found: int
    low: int
    high: int


@dataclass(frozen=True)
class KindPage:
    """One kind of work: its title, from how many answered tasks, and what is behind them.

    is_little: so few that what is assumed still counts for more than what was found. commonest: the
    row of the mistake of this kind that was found most, if any.
    """

    title: str
    sets: int
    is_little: bool
    rows: list[Row]
    commonest: Row | None


def school_mistakes(school: School) -> list[KindPage]:
    """Return what is known of each kind of work in *school*, those with most answers first."""
    kept = kept_of(MistakeShares.objects.of_school(school))
    return [_page(one) for one in sorted(kept, key=lambda one: (-one.sets, one.kind))]


def _page(one: OfKind) -> KindPage:
    ordered = sorted(one.shares.items(), key=lambda pair: -pair[1].found)
    of_kind = (_row(name, share) for name, share in ordered if not isinstance(name, str))
    return KindPage(
        kind_kept(one.kind).title,
        one.sets,
        one.sets < STRENGTH,
        [_row(name, share) for name, share in ordered],
        next(of_kind, None),
    )


def _row(name: Key | str, share: Share) -> Row:
    words = str(PLAIN[name]) if isinstance(name, str) else sentence_of(Mistake(*name))
    of_100 = [round(100 * part) for part in (share.assumed, share.found, share.low, share.high)]
    return Row(words, *of_100)
