"""What can be done to a sequence: swap, lock, draw again, set it all, throw away, bring back."""

import datetime as dt
from collections.abc import Callable
from functools import wraps
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_POST

from tasks.models import DayPlan, Sequence, Task
from tasks.plans.planning import PlanningError, Seen
from tasks.plans.views.plans import seen_by, telling
from tasks.sequences import changing, setting
from tasks.sequences.forms import SetAllForm, SwapForm
from tasks.sequences.slots import Place
from tasks.sequences.views.pages import sequence_address, sequence_page
from tasks.week import closures

PRESSED_AT_PARTS = ("swap", "lock_day", "lock_part")


def sequence_run(request: HttpRequest, class_pk: int, sequence_pk: int) -> Sequence:
    """Return a sequence that the reader may change. Raises Http404."""
    run = Sequence.objects.run_by(request.user).select_related("school_class__year__school")
    return get_object_or_404(run, pk=sequence_pk, school_class=class_pk)


def sequence_action(do: Callable[..., None]) -> Callable[..., HttpResponse]:
    """Make a view of an action on a sequence: POST, then back to its page.

    One on a single day or part is pressed where all parts are unfolded, and they stay so.
    """
    of_parts = do.__name__ in PRESSED_AT_PARTS

    @require_POST
    @wraps(do)
    def view(request: HttpRequest, class_pk: int, sequence_pk: int, **more: Any) -> HttpResponse:
        sequence = sequence_run(request, class_pk, sequence_pk)
        with telling(request):
            do(request, sequence, seen_by(request), **more)
        return redirect(sequence_address(sequence, parts=of_parts))

    return view


@sequence_action
def swap(request: HttpRequest, sequence: Sequence, seen: Seen) -> None:
    """Let two days, or two parts, change places."""
    form = SwapForm(request.POST)
    if not form.is_valid():
        raise PlanningError(_("Choose two different days, or two different parts."))
    anew = changing.swap(sequence, form.cleaned_data["one"], form.cleaned_data["other"], seen)
    said = [_("They have changed places.")]
    if anew:
        said.append(
            ngettext(
                "%(parts)s part would have asked the same twice within days, so it has new "
                "questions.",
                "%(parts)s parts would have asked the same twice within days, so they have new "
                "questions.",
                anew,
            )
            % {"parts": anew}
        )
    messages.success(request, " ".join(said))


@sequence_action
def lock_day(request: HttpRequest, sequence: Sequence, seen: Seen, date: dt.date) -> None:
    """Lock all parts of a day, or with ?open=1 unlock them."""
    changing.lock_day(sequence, date, "open" not in request.GET, seen)


@sequence_action
def lock_part(
    request: HttpRequest, sequence: Sequence, seen: Seen, date: dt.date, part: str
) -> None:
    """Lock one part of a day, or with ?open=1 unlock it."""
    place = Place(date, part)
    changing.lock_part(sequence, place, "open" not in request.GET, seen)


@sequence_action
def redraw_rest(request: HttpRequest, sequence: Sequence, seen: Seen) -> None:
    """Draw again what is neither locked nor set."""
    fewer = changing.redraw_rest(sequence, seen)
    messages.success(
        request, _("There are new questions now. What was locked or set is as it was.")
    )
    if fewer:
        messages.warning(
            request,
            _(
                "There are not enough different prompts for all of it within a week, so these "
                "have fewer now: %(parts)s."
            )
            % {"parts": ", ".join(map(said_where, fewer))},
        )


def said_where(task: Task) -> str:
    """Name a part and its day."""
    day = date_format(task.day_plan.date, "l j F")
    return _("%(part)s of %(day)s") % {"part": task.get_part_display(), "day": day}


@require_POST
def set_all(request: HttpRequest, class_pk: int, sequence_pk: int) -> HttpResponse:
    """Set every drafted day, each for the same time of its morning."""
    sequence = sequence_run(request, class_pk, sequence_pk)
    school = sequence.school_class.school
    drafts = list(sequence.day_plans.drafts().planned().values_list("date", flat=True))
    closed = closures(sequence.school_class, sequence.first, sequence.last)
    dates = [date for date in drafts if date not in closed]
    form = SetAllForm(request.POST, dates=dates, school=school)
    if not form.is_valid():
        return sequence_page(request, sequence, set_form=form)
    with telling(request):
        before = set_days(sequence)
        done = setting.set_all(sequence, form.cleaned_data["moments"], seen_by(request))
        messages.success(request, said_set(done, form.cleaned_data["time"]))
        shut = [date for date in drafts if date in closed]
        said = [said_left(before), said_gone_by(form.gone_by), said_closed(shut)]
        if any(said):
            messages.info(request, " ".join(filter(None, said)))
    return redirect(sequence_address(sequence))


def set_days(sequence: Sequence) -> list[dt.date]:
    """Return the days from first to last of a sequence that are set, of whatever plan."""
    plans = DayPlan.objects.filter(school_class=sequence.school_class_id, goes_out_at__isnull=False)
    within = plans.between(sequence.first, sequence.last).order_by("date")
    return list(within.values_list("date", flat=True))


def said_set(dates: list[dt.date], time: dt.time) -> str:
    """Say which days have been set, and for when."""
    return ngettext(
        "%(count)s day is set: %(days)s, at %(time)s.",
        "%(count)s days are set, each for %(time)s of its morning: %(days)s.",
        len(dates),
    ) % {"count": len(dates), "days": listed(dates), "time": f"{time:%H:%M}"}


def said_left(dates: list[dt.date]) -> str:
    """Say which days had been set before and stay as they are."""
    if not dates:
        return ""
    return ngettext(
        "%(days)s was set already and stays as it was.",
        "%(days)s were set already and stay as they were.",
        len(dates),
    ) % {"days": listed(dates)}


def said_gone_by(dates: list[dt.date]) -> str:
    """Say which drafted days have gone by and were not set."""
    if not dates:
        return ""
    return ngettext(
        "%(days)s has gone by and stays a draft.",
        "%(days)s have gone by and stay drafts.",
        len(dates),
    ) % {"days": listed(dates)}


def said_closed(dates: list[dt.date]) -> str:
    """Say on which drafted days there is no school, so that they were not set."""
    if not dates:
        return ""
    return ngettext(
        "There is no school on %(days)s: it stays a draft.",
        "There is no school on %(days)s: they stay drafts.",
        len(dates),
    ) % {"days": listed(dates)}


def listed(dates: list[dt.date]) -> str:
    """Write days as a list: Mon 23 Nov, Tue 24 Nov."""
    return ", ".join(date_format(date, "D j M") for date in dates)


@sequence_action
def throw_away(request: HttpRequest, sequence: Sequence, seen: Seen) -> None:
    """Remove every day that was not set yet."""
    setting.throw_away(sequence, seen)


@sequence_action
def bring_back(request: HttpRequest, sequence: Sequence, seen: Seen) -> None:
    """Undo throwing a draft away."""
    taken = setting.bring_back(sequence, seen)
    messages.success(request, _("The draft is back."))
    if taken:
        messages.warning(
            request,
            _("Planned differently since, so left as it is: %(days)s.") % {"days": listed(taken)},
        )
