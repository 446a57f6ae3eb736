"""Marks for the lead: put on and taken off while looking, and listed across classes."""

from django.core.paginator import Paginator
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from assessment.looks.forms.lead_marks import MarkForm
from assessment.looks.lead_marks import mark_for_lead, open_again, settle
from assessment.models import LeadMark
from evidence.models import Submission
from portal.people.models import SchoolClass

PAGE_SIZE = 30


@require_safe
def marks(request: HttpRequest) -> HttpResponse:
    """List the marked work of every class the reader works with; a lead's are all."""
    if not SchoolClass.objects.taught_by(request.user).exists():
        raise Http404
    shown = LeadMark.objects.visible_to(request.user)
    settled = "settled" in request.GET
    rows = shown.exclude(settled_at=None) if settled else shown.open()
    related = rows.select_related(
        "marked_by", "settled_by", "submission__child__school_class", "submission__day_plan"
    )
    context = {
        "page": Paginator(related, PAGE_SIZE).get_page(request.GET.get("page")),
        "settled": settled,
        "just_settled": shown.filter(pk=number(request.GET.get("done"))).first(),
    }
    return render(request, "looks/marks.html", context)


@require_POST
def mark(request: HttpRequest, token: str) -> HttpResponse:
    """Mark one piece for the lead."""
    submission = get_object_or_404(Submission.objects.taught_by(request.user).active(), token=token)
    form = MarkForm(request.POST)
    if form.is_valid():
        mark_for_lead(submission, request.user, form.cleaned_data["words"])
    return part(request, submission, form, status=200 if form.is_valid() else 422)


@require_POST
def settle_mark(request: HttpRequest, token: str) -> HttpResponse:
    """Take a mark off."""
    found = mark_of(request, token)
    settle(found, request.user)
    if "list" in request.POST:
        return redirect(reverse("assessment:marks") + f"?done={found.pk}")
    return part(request, found.submission, MarkForm())


@require_POST
def open_mark(request: HttpRequest, token: str) -> HttpResponse:
    """Put a mark that was taken off back on."""
    found = mark_of(request, token)
    open_again(found)
    if not request.headers.get("HX-Request"):
        return redirect("assessment:marks")
    return part(request, found.submission, MarkForm())


def part(
    request: HttpRequest, submission: Submission, form: MarkForm, status: int = 200
) -> HttpResponse:
    """Draw the mark of *submission* again; without scripts, its whole page."""
    if not request.headers.get("HX-Request"):
        return redirect("assessment:look", submission.token)
    found = LeadMark.objects.select_related("marked_by").filter(submission=submission).first()
    context = {"submission": submission, "mark": found, "mark_form": form}
    return render(request, "looks/_mark.html", context, status=status)


def mark_of(request: HttpRequest, token: str) -> LeadMark:
    """Return the mark on a piece of a child taught, or answer 404."""
    shown = LeadMark.objects.visible_to(request.user).select_related("submission")
    return get_object_or_404(shown, submission__token=token)


def number(text: str | None) -> int:
    """Read a key out of an address; 0, which is nobody's, for anything else."""
    return int(text) if text and text.isascii() and text.isdigit() and len(text) < 19 else 0
