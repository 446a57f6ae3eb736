"""The lead's desk: what families asked for, what is held, what is kept how long."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from portal.data_protection.models import DataRequest, LegalHold, PurgeRun
from portal.data_protection.retention.forms import RulesForm
from portal.data_protection.retention.purge import rules_of, tonight
from portal.people.accounts.reauthentication import needs_recent_sign_in
from portal.people.accounts.views.staff import school_led
from portal.people.audit.log import record
from portal.people.models import Child, Event, School, SchoolClass

NIGHTS = 7


@require_safe
def desk(request: HttpRequest) -> HttpResponse:
    """Show all that concerns the school's data in one place."""
    school = school_led(request)
    children = Child.objects.filter(school=school).select_related("school_class")
    context = {
        "school": school,
        "wishes": DataRequest.objects.open().filter(child__school=school).select_related("child"),
        "holds": LegalHold.objects.active().filter(child__school=school).select_related("child"),
        "classes": SchoolClass.objects.filter(year__school=school).select_related("year"),
        "children": children.order_by("school_class", "first_name", "pk"),
        "rules": rules_of(school),
    }
    return render(request, "data_protection/desk.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
def rules(request: HttpRequest) -> HttpResponse:
    """Set how long things are kept, and whom people turn to."""
    return change_rules(request, school_led(request))


@needs_recent_sign_in
def change_rules(request: HttpRequest, school: School) -> HttpResponse:
    """Take the rules of *school* in, from a lead of it who has just signed in."""
    form = RulesForm(request.POST or None, instance=school)
    if form.is_valid():
        form.save()
        record(request, Event.What.RULE_CHANGED, school, school=school)
        messages.success(request, _("Changed. It counts from the next night on."))
        return redirect("privacy:desk")
    status = 422 if form.is_bound else 200
    return render(request, "retention/rules.html", {"form": form}, status=status)


@require_safe
def what_goes_tonight(request: HttpRequest) -> HttpResponse:
    """Show what would be deleted if it were night now, and what was in the last nights."""
    school = school_led(request)
    context = {
        "dues": tonight(school, timezone.now()),
        "nights": PurgeRun.objects.filter(school=school, done_at__isnull=False)[:NIGHTS],
    }
    return render(request, "retention/tonight.html", context)


@require_POST
def settle(request: HttpRequest, wish_pk: int) -> HttpResponse:
    """Note that somebody has seen to what a family asked for."""
    wish = get_object_or_404(DataRequest.objects.visible_to(request.user).open(), pk=wish_pk)
    DataRequest.objects.filter(pk=wish.pk).update(
        settled_at=timezone.now(), settled_by=request.user
    )
    messages.success(request, _("Noted."))
    return redirect("privacy:desk")
