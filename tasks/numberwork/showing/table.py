"""What has to be seen of each kind, and where its picture is the question itself."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from tasks.numberwork.kinds.counting import STEP_NAMES
from tasks.numberwork.showing.seen import GLIMPSED, HEARD, MADE, WRITTEN


@dataclass(frozen=True, slots=True)
class Shows:
    """What a kind's answers can show.

    needs: without one of these ways of seeing it, the answers show nothing; none where an answer
    that was typed is enough. in_picture: the forms in which the picture is what is asked about,
    and no support. options: of forms that are a choice among numbers, how many there are.
    """

    needs: frozenset[str] = frozenset()
    in_picture: frozenset[str] = frozenset()
    options: Mapping[str, int] = field(default_factory=dict, hash=False)


def _needs(*ways: str) -> Shows:
    """Return what a kind shows whose answers count only when seen in one of these *ways*."""
    return Shows(needs=frozenset(ways))


def _drawn(*forms: str) -> Shows:
    """Return what a kind shows whose *forms* ask about their picture."""
    return Shows(in_picture=frozenset(forms))


# Subitising is "recognise quantities without counting" (the early learning goals): only a glimpse
# tells it from a count. The others: common practice, no source.
SHOWS: Mapping[str, Shows] = MappingProxyType(
    {
        **{
            f"counting-{way}-in-{name}": Shows()
            for way in ("on", "back")
            for name in STEP_NAMES.values()
        },
        **{f"counting-aloud-in-{name}": _needs(HEARD) for name in STEP_NAMES.values()},
        "number-of-the-day-shown": _needs(MADE, WRITTEN),
        "counting-amounts": _drawn("rows", "scattered", "frame", "one more hidden"),
        "count-out": Shows(frozenset({MADE}), frozenset({"count out", "check"})),
        # The sounds were made at home: that the count went with them, only a recording tells.
        "counting-sounds": Shows(frozenset({HEARD}), frozenset({"windows"})),
        "still-the-same": Shows(frozenset({HEARD}), frozenset({"spread out", "pushed together"})),
        "estimate-and-count": _drawn("five or ten", "guess", "count", "rows"),
        "ordinals": _drawn("from the left", "from the right", "just before", "just after"),
        "missing-number": Shows(),
        # A numeral that is named is heard; what was typed may be what the adult read.
        "number-names": Shows(
            frozenset({HEARD}), frozenset({"which", "read", "gap"}), {"which": 2}
        ),
        "hundred-square": _drawn("covered", "right", "left", "below", "above"),
        "number-formation": Shows(frozenset({WRITTEN}), frozenset({"amount"})),
        "one-more": Shows(),
        "one-less": Shows(),
        "number-of-the-day": _drawn("tally", "dots"),
        "subitising": Shows(
            frozenset({GLIMPSED}),
            frozenset({"dice", "fingers", "frame", "scattered", "things", "two parts"}),
        ),
        "number-bonds": Shows(),
        "adding": Shows(),
        "taking-away": Shows(),
        "missing-part": Shows(),
        "doubling": Shows(),
        "finger-doubles": Shows(),
        "halving": Shows(),
        "halving-number-sentence": Shows(),
        "sharing-equally": Shows(),
        "odd-or-even": Shows(),
        "can-it-be-halved": Shows(options={"which can": 3, "which cannot": 3}),
        "matching": Shows(
            frozenset({MADE}), frozenset({"which has more", "enough", "without a partner"})
        ),
        "comparing": Shows(in_picture=frozenset({"sets"}), options={"more": 2, "less": 2}),
        "comparing-signs": Shows(),
        "ordering": _drawn("smallest first", "largest first"),
        "halves-of-shapes": _drawn("is it half", "which one"),
        "repeating-patterns": _drawn("next", "inside"),
        "making-patterns": Shows(frozenset({MADE}), frozenset({"mend", "copy", "part"})),
        "story-problems": Shows(),
        "number-stories": _needs(HEARD),
    }
)
