"""The page of a class's gaps, and the button that turns one into a drafted day."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from assessment.class_access import class_run, class_taught, file_name, given
from assessment.progress.forms.progress import DraftForm
from assessment.progress.gaps import by_child, by_goal, evidence_of_class, gaps_table
from assessment.progress.next_day_draft import draft, next_open_day
from portal.people.models import SchoolClass
from tasks.plans.planning import PlanningError, Seen


@require_safe
def gaps(request: HttpRequest, class_pk: int) -> HttpResponse:
    """Show where evidence is missing, by goal and by child, and what would give it."""
    school_class = class_taught(request, class_pk)
    known = evidence_of_class(school_class, request.user)
    context = {
        "school_class": school_class,
        "may_plan": SchoolClass.objects.run_by(request.user).filter(pk=class_pk).exists(),
        "goals": by_goal(known, school_class),
        "children": by_child(known),
        "groups": list(school_class.groups.all()),
        "day": next_open_day(school_class),
    }
    return render(request, "progress/gaps.html", context)


@require_safe
def gaps_taken(request: HttpRequest, class_pk: int, sheet: str) -> HttpResponse:
    """Return the gaps of each child as a table to take away."""
    school_class = class_taught(request, class_pk)
    children = by_child(evidence_of_class(school_class, request.user))
    headings = [
        _("Child"),
        _("Goal"),
        _("Shown so far"),
        _("Not seen yet"),
        _("What would give it"),
    ]
    table = gaps_table(file_name("gaps", school_class), headings, children)
    return given(request, table, sheet, school_class)


@require_POST
def gap_drafted(request: HttpRequest, class_pk: int) -> HttpResponse:
    """Draft the next school day around a kind of work that would close a gap, and go there."""
    school_class = class_run(request, class_pk)
    form = DraftForm(request.POST, groups=school_class.groups.all())
    if not form.is_valid():
        messages.warning(request, _("Choose one of the kinds of work on this page."))
        return redirect("assessment:gaps", class_pk)
    group = form.cleaned_data["group"]
    plan = next_open_day(school_class, group)
    if plan is None:
        messages.warning(request, _("Every school day left in this year has work already."))
        return redirect("assessment:gaps", class_pk)
    try:
        draft(plan, form.kinds, Seen(plan.version, request.user), group)
    except PlanningError as refusal:
        messages.warning(request, str(refusal))
    else:
        day = date_format(plan.date, "l j F")
        text = _("Drafted for %(day)s. Families see nothing of it until you set it.")
        if plan.goes_out_at:
            text = _("Added to %(day)s, which is set: the group’s families see it with that day.")
        messages.success(request, text % {"day": day})
    return redirect("tasks:plan-day", class_pk, plan.date)
