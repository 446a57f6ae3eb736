"""Deleting one piece of work after it was looked at: asked for by a family, done by a lead."""

from collections.abc import Callable
from functools import wraps

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from evidence.erasure import remove_work
from evidence.models import Piece, Submission
from evidence.submissions.who_looked import by_piece, names_of
from portal.data_protection.models import DataRequest, LegalHold
from portal.operations import erasure_list
from portal.people.accounts.reauthentication import needs_recent_sign_in
from portal.people.audit.log import record
from portal.people.models import Event, StaffPost


@require_POST
def ask_delete(request: HttpRequest, token: str) -> HttpResponse:
    """Ask the school to delete a piece of work that can no longer be taken back."""
    own = Submission.objects.from_home_of(request.user).active().select_related("child")
    work = get_object_or_404(own, token=token)
    DataRequest.ask(work.child, DataRequest.What.DELETE_WORK, request.user, work=work.pk)
    messages.success(request, _("The school has been asked. Somebody will come back to you."))
    return redirect("evidence:submission", token)


def for_lead(
    view: Callable[[HttpRequest, Submission], HttpResponse],
) -> Callable[..., HttpResponse]:
    """Let a view about work be reached by a lead of its school alone, freshly signed in."""

    @wraps(view)
    def checked(request: HttpRequest, work_pk: int) -> HttpResponse:
        led = StaffPost.objects.current().filter(user=request.user, role=StaffPost.Role.LEAD)
        work = Submission.objects.filter(child__school__in=led.values("school"))
        found = get_object_or_404(work.select_related("child__school", "day_plan"), pk=work_pk)
        return needs_recent_sign_in(view)(request, found)

    return checked


@require_safe
@for_lead
def letting_go(request: HttpRequest, work: Submission) -> HttpResponse:
    """Show a lead what is known of one piece of work, to hold or to delete it."""
    rows = by_piece(list(Piece.objects.filter(submission=work).order_by("position", "pk")))
    context = {
        "work": work,
        "rows": rows,
        "names": names_of(rows),
        "hold": LegalHold.objects.active().filter(child=work.child, work=work.pk).first(),
        "child_is_held": LegalHold.objects.active().filter(child=work.child, work=None).exists(),
    }
    return render(request, "submissions/delete.html", context)


@require_POST
@for_lead
def hold(request: HttpRequest, work: Submission) -> HttpResponse:
    """Hold one piece of work, or end that."""
    if request.POST.get("hold") == "end":
        LegalHold.end(work.child, work.pk, request.user)
        record(request, Event.What.HOLD_ENDED, work, school=work.child.school)
    else:
        LegalHold.place(work.child, work.pk, request.user)
        record(request, Event.What.HELD, work, school=work.child.school)
    messages.success(request, _("Done. Nobody else is told."))
    return redirect("evidence:letting-go", work.pk)


@require_POST
@for_lead
def delete(request: HttpRequest, work: Submission) -> HttpResponse:
    """Delete one piece of work for good, from later backups too; not while it is held."""
    pk = work.pk
    free = Submission.objects.filter(~LegalHold.objects.on_work(), pk=pk)
    erasure_list.note("evidence.submission", pk)
    if not remove_work(free):
        messages.warning(request, _("It is held. End the hold first."))
        return redirect("evidence:letting-go", pk)
    erasure_list.note("evidence.submission", pk)
    record(request, Event.What.DELETED, work, school=work.child.school)
    messages.success(request, _("Deleted. It cannot be brought back."))
    return redirect("privacy:desk")
