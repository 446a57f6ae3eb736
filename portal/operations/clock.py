"""Whether this machine's clock can be believed: asked before anything is deleted for its age.

A clock that leaps makes everything look old. The portal remembers the last moment that it believed,
moved on by every tick of the beat and every backup; what is too far from it is not believed, and
does not move it. A portal that was switched off for weeks cannot tell that from a leap: a person
can, and says so by `manage.py confirm_clock`.
"""

import datetime as dt

from django.utils import timezone

from portal.operations.models import Mark

AHEAD, BEHIND = dt.timedelta(days=14), dt.timedelta(days=1)


def last_believed() -> dt.datetime | None:
    """Return the last moment that was believed; None on a portal that has not seen any."""
    return Mark.objects.filter(name=Mark.Name.CLOCK).values_list("at", flat=True).first()


def is_plausible(now: dt.datetime | None = None) -> bool:
    """Whether *now* is near enough to the last moment that was believed; the first always is."""
    now, last = now or timezone.now(), last_believed()
    return last is None or last - BEHIND <= now <= last + AHEAD


def note(now: dt.datetime | None = None) -> bool:
    """Believe *now* if it is plausible, and tell whether it is."""
    now = now or timezone.now()
    if plausible := is_plausible(now):
        Mark.make(Mark.Name.CLOCK, now)
    return plausible


def confirm(now: dt.datetime | None = None) -> None:
    """Believe *now*, because a person says that it is right."""
    Mark.make(Mark.Name.CLOCK, now or timezone.now())


def doubt() -> str:
    """Say in words what is wrong with the clock, and what to do."""
    now, last = timezone.now(), last_believed()
    return (
        f"By this machine's clock it is {now:%Y-%m-%d %H:%M} UTC, but the portal last ran at "
        f"{last or now:%Y-%m-%d %H:%M}. Until this is settled nothing is deleted for its age. Set "
        "the clock; if it is right and the portal was off, run: manage.py confirm_clock TODAY, "
        "with today's date such as 2026-11-25."
    )
