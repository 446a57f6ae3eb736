"""Bringing a roster file in: the file, its columns, a look through, and then all of it at once."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from portal.people.audit.log import record
from portal.people.models import Event, RosterRun
from portal.people.roster_import.applying import ChangedSinceError, apply_run
from portal.people.roster_import.files.table import UnreadableError
from portal.people.roster_import.forms import ChoicesForm, ColumnsForm, FileForm
from portal.people.roster_import.planning import Plan
from portal.people.roster_import.running import (
    choose,
    choose_columns,
    class_names,
    drop,
    knows_all_columns,
    plan_of,
    start_run,
    table_of,
)
from portal.people.roster_import.undoing import CannotUndoError, last_run, undo_run
from portal.people.roster_import.words import fates
from portal.people.school.views.years import school_kept


def draft(request: HttpRequest, run_pk: int) -> RosterRun:
    """Return a file that was brought in and not run yet. Raises Http404."""
    drafts = RosterRun.objects.drafts().kept_by(request.user).select_related("school", "year")
    return get_object_or_404(drafts, pk=run_pk)


@require_http_methods(["GET", "HEAD", "POST"])
def bring_in(request: HttpRequest) -> HttpResponse:
    """Take a roster file."""
    school = school_kept(request)
    form = FileForm(request.POST or None, request.FILES or None)
    if request.method == "POST" and form.is_valid():
        try:
            run = start_run(school, request.user, form.cleaned_data["file"])
        except UnreadableError as error:
            form.add_error("file", str(error))
        else:
            known = knows_all_columns(run)
            return redirect(f"people:roster-{'check' if known else 'columns'}", run.pk)
    context = {
        "form": form,
        "last": last_run(school),
        "has_years": school.years.exists(),
        "runs": school.roster_runs.filter(applied_at__isnull=False)[:10],
    }
    return render(request, "roster_import/upload.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
def columns(request: HttpRequest, run_pk: int) -> HttpResponse:
    """Let the office say what each column holds; it is remembered for the next file."""
    run = draft(request, run_pk)
    table = table_of(run)
    form = ColumnsForm(run, table, request.POST or None)
    if form.is_valid():
        choose_columns(run, table, form.columns(), form.cleaned_data["one_class"])
        return redirect("people:roster-check", run_pk)
    return render(request, "roster_import/columns.html", {"form": form, "run": run})


@require_http_methods(["GET", "HEAD", "POST"])
def check(request: HttpRequest, run_pk: int) -> HttpResponse:
    """Show what running the file would do to every row, before anything is done."""
    run = draft(request, run_pk)
    if run.year is None:
        messages.warning(request, _("Make a school year first, then bring the file in again."))
        return redirect("people:years")
    plan = plan_of(run)
    asked = [str(each.child.rows[0]) for each in plan.children if each.candidates]
    form = ChoicesForm(run, class_names(run), [*run.answers, *asked], data=request.POST or None)
    if form.is_valid():
        choose(run, **form.chosen())
        return redirect("people:roster-check", run_pk)
    return render(request, "roster_import/check.html", check_context(run, plan, form))


def check_context(run: RosterRun, plan: Plan, form: ChoicesForm) -> dict[str, object]:
    """Return what the page with every row's fate shows."""
    found = fates(plan)
    return {
        "run": run,
        "form": form,
        "plan": plan,
        "fates": found,
        "answers": {
            row: answer
            for row, answer in run.answers.items()
            if not any(row == fate.question for fate in found)
        },
    }


@require_POST
def apply(request: HttpRequest, run_pk: int) -> HttpResponse:
    """Run the file as it was shown: everything, or nothing."""
    run = draft(request, run_pk)
    if run.year is None:
        return redirect("people:roster-check", run_pk)
    if plan_of(run).many_leave and request.POST.get("many_leave") != "yes":
        messages.warning(request, _("Many children would leave. Tick that this is right."))
        return redirect("people:roster-check", run_pk)
    by_mail = request.POST.get("by_mail") == "yes"
    try:
        apply_run(run, request.POST.get("digest", ""), by_mail=by_mail, made_by=request.user)
    except ChangedSinceError:
        messages.warning(request, _("The roster has changed since. Check the rows again."))
        return redirect("people:roster-check", run_pk)
    record(request, Event.What.ROSTER_APPLIED, run, school=run.school)
    messages.success(request, _("Done. The file itself is deleted here."))
    return redirect("people:roster-import")


@require_POST
def leave(request: HttpRequest, run_pk: int) -> HttpResponse:
    """Drop a file that was brought in."""
    drop(RosterRun.objects.filter(pk=draft(request, run_pk).pk))
    messages.success(request, _("Nothing was changed. The file is deleted here."))
    return redirect("people:roster-import")


@require_POST
def undo(request: HttpRequest, run_pk: int) -> HttpResponse:
    """Take the last file back."""
    run = get_object_or_404(RosterRun.objects.kept_by(request.user), pk=run_pk)
    try:
        undo_run(run)
    except CannotUndoError as error:
        messages.warning(request, str(error))
    else:
        record(request, Event.What.ROSTER_UNDONE, run, school=run.school)
        messages.success(request, _("Undone: everything is as before that file."))
    return redirect("people:roster-import")
