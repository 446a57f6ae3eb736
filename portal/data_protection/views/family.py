"""An adult's own page about data: what they agree to, a copy of it, and asking the school."""

from django.contrib import messages
from django.core.exceptions import BadRequest
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from portal.data_protection.consent.wording import CURRENT
from portal.data_protection.data_export.requesting import ask_for_copy
from portal.data_protection.family_page import own_children
from portal.data_protection.models import DataRequest
from portal.data_protection.retention.purge import rules_of
from portal.people.accounts.reauthentication import needs_proof
from portal.people.models import Consent, Guardianship, Purpose


@require_safe
def family(request: HttpRequest) -> HttpResponse:
    """Show what is kept of the own children, and what can be decided about it."""
    children = own_children(request.user)
    school = children[0].child.school if children else None
    rules = [rule for rule in rules_of(school) if rule.kept.for_families] if school else []
    return render(
        request,
        "data_protection/family.html",
        {"children": children, "school": school, "rules": rules},
    )


@require_POST
def consent(request: HttpRequest, child_pk: int) -> HttpResponse:
    """Write down a yes or no: the one as easily as the other."""
    tie = own_tie(request, child_pk)
    purpose, answer = request.POST.get("purpose"), request.POST.get("answer")
    if purpose not in Purpose.asked() or answer not in ("yes", "no"):
        raise BadRequest
    Consent.answer(tie, Purpose(purpose), given=answer == "yes", wording=CURRENT.version)
    messages.success(request, _("Noted, from now on. You can change it at any time."))
    return redirect("privacy:family")


@require_POST
def copy(request: HttpRequest, child_pk: int) -> HttpResponse:
    """Have a copy made of what the own home sent and was told."""
    return needs_proof(copy_for)(request, own_tie(request, child_pk))


def copy_for(request: HttpRequest, tie: Guardianship) -> HttpResponse:
    """Have the copy made for an adult who has proved who they are."""
    made = ask_for_copy(tie.child, tie.home, request.user)
    return redirect("privacy:copy", made.token)


@require_POST
def ask(request: HttpRequest, child_pk: int) -> HttpResponse:
    """Ask the school to delete everything, or to talk."""
    tie = own_tie(request, child_pk)
    what = request.POST.get("what", "")
    if what not in (DataRequest.What.DELETE_ALL, DataRequest.What.ASK):
        raise BadRequest
    DataRequest.ask(tie.child, what, request.user)
    messages.success(request, _("The school has been asked. Somebody will come back to you."))
    return redirect("privacy:family")


def own_tie(request: HttpRequest, child_pk: int) -> Guardianship:
    """Return how the reader is at home with a child, or answer 404."""
    ties = Guardianship.objects.current().filter(adult=request.user, adult__is_active=True)
    return get_object_or_404(ties.select_related("child", "home", "adult"), child=child_pk)
