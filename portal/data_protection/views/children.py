"""One child's data in the hands of a lead: answers on paper, a hold, a copy, erasing."""

from collections.abc import Callable
from functools import wraps

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from portal.data_protection.consent.report import report
from portal.data_protection.consent.wording import CURRENT
from portal.data_protection.data_export.requesting import ask_for_copy
from portal.data_protection.erasure.erase import HeldError, erase_child
from portal.data_protection.forms import EraseForm, PaperForm
from portal.data_protection.models import DataExport, LegalHold
from portal.people.accounts.reauthentication import needs_proof
from portal.people.audit.log import record
from portal.people.models import Child, Consent, Event, Home, Purpose, StaffPost


def for_lead(view: Callable[[HttpRequest, Child], HttpResponse]) -> Callable[..., HttpResponse]:
    """Let a view about a child be reached by a lead of its school alone, freshly signed in."""

    @wraps(view)
    def checked(request: HttpRequest, child_pk: int) -> HttpResponse:
        led = StaffPost.objects.current().filter(user=request.user, role=StaffPost.Role.LEAD)
        children = Child.objects.filter(school__in=led.values("school"))
        child = get_object_or_404(children.select_related("school", "school_class"), pk=child_pk)
        return needs_proof(view)(request, child)

    return checked


@require_safe
@for_lead
def child_page(request: HttpRequest, child: Child) -> HttpResponse:
    """Show what may be done with a child's data, and do it from here."""
    return show(request, child, PaperForm(child))


def show(request: HttpRequest, child: Child, form: PaperForm, status: int = 200) -> HttpResponse:
    """Show the page of *child* with *form*."""
    answers = Consent.objects.filter(child=child).select_related("adult", "recorded_by")
    homes = {home.pk: number for number, home in enumerate(Home.objects.of(child), start=1)}
    copies = DataExport.objects.visible_to(request.user).in_date()
    context = {
        "child": child,
        "form": form,
        "line": report(Child.objects.filter(pk=child.pk))[0],
        "answers": [(each, homes.get(each.home_id)) for each in answers],
        "hold": LegalHold.objects.active().filter(child=child, work=None).first(),
        "copies": copies.filter(child=child, home=None),
    }
    return render(request, "data_protection/child.html", context, status=status)


@require_POST
@for_lead
def paper(request: HttpRequest, child: Child) -> HttpResponse:
    """Write down what a home answered on paper."""
    form = PaperForm(child, request.POST)
    if not form.is_valid():
        return show(request, child, form, status=422)
    said = form.cleaned_data
    Consent.answer_on_paper(
        child,
        said["home"],
        Purpose(said["purpose"]),
        given=said["given"],
        wording=CURRENT.version,
        by=request.user,
    )
    record(request, Event.What.CONSENT_WRITTEN, child, school=child.school)
    messages.success(request, _("Written down. It counts from now on."))
    return redirect("privacy:child", child.pk)


@require_POST
@for_lead
def hold(request: HttpRequest, child: Child) -> HttpResponse:
    """Hold all there is of a child, or end that."""
    if request.POST.get("hold") == "end":
        LegalHold.end(child, None, request.user)
        record(request, Event.What.HOLD_ENDED, child, school=child.school)
    else:
        LegalHold.place(child, None, request.user)
        record(request, Event.What.HELD, child, school=child.school)
    messages.success(request, _("Done. Nobody else is told."))
    return redirect("privacy:child", child.pk)


@require_POST
@for_lead
def copy(request: HttpRequest, child: Child) -> HttpResponse:
    """Have a copy made of all that is kept of a child."""
    return redirect("privacy:copy", ask_for_copy(child, None, request.user).token)


@require_http_methods(["GET", "HEAD", "POST"])
@for_lead
def erase(request: HttpRequest, child: Child) -> HttpResponse:
    """Erase a child for good, once the name was typed."""
    pk, form = child.pk, EraseForm(child, request.POST or None)
    if form.is_valid():
        try:
            erase_child(child)
        except HeldError:
            form.add_error(None, _("Something of this child is held. End the hold first."))
        else:
            record(request, Event.What.DELETED, Child(pk=pk), school=child.school)
            messages.success(request, _("Erased. It cannot be brought back."))
            return redirect("privacy:desk")
    status = 422 if form.is_bound else 200
    return render(
        request, "data_protection/erase.html", {"child": child, "form": form}, status=status
    )
