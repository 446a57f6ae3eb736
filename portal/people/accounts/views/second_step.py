"""Taking the second step, and setting it up."""

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from portal.people.accounts import second_step
from portal.people.accounts.forms.account import DigitsForm, SecondStepForm
from portal.people.accounts.models.fingerprints import in_fours
from portal.people.accounts.next_url import go_on
from portal.people.accounts.reauthentication import needs_recent_sign_in
from portal.people.accounts.views.sign_in import TOO_OFTEN
from portal.people.asking import SignedInRequest
from portal.people.audit.log import record
from portal.people.families.invitation_slips import qr_code
from portal.people.models import Event, RecoveryCode


@require_http_methods(["GET", "HEAD", "POST"])
def take(request: SignedInRequest) -> HttpResponse:
    """Take the second step of a sign-in."""
    if second_step.step_missing(request) != "people:second-step":
        return redirect("home")
    form = SecondStepForm(request.POST or None)
    status = 200
    if form.is_valid():
        if not second_step.may_try(request.user):
            form.add_error(None, _("Too many tries. Wait a quarter of an hour, then try again."))
            status = TOO_OFTEN
        elif proves(request, form.cleaned_data["code"]):
            second_step.pass_second_step(request)
            record(request, Event.What.SECOND_STEP_PASSED)
            return redirect(go_on(request))
        else:
            record(request, Event.What.SECOND_STEP_FAILED)
            form.add_error("code", _("That is not right. Wait for the next digits and try them."))
    return render(request, "accounts/second_step.html", {"form": form}, status=status)


def proves(request: SignedInRequest, typed: str) -> bool:
    """Whether *typed* is what the app shows, or a recovery code, which is then used up."""
    digits = "".join(typed.split())
    if digits.isdecimal() and len(digits) == 6:
        return second_step.are_digits_of(request.user, typed)
    if not RecoveryCode.spend(request.user, typed):
        return False
    record(request, Event.What.RECOVERY_CODE_USED)
    left = request.user.recovery_codes.filter(used_at=None).count()
    messages.warning(request, _("You have %(left)s recovery codes left.") % {"left": left})
    return True


@require_http_methods(["GET", "HEAD", "POST"])
@needs_recent_sign_in
def set_up(request: SignedInRequest) -> HttpResponse:
    """Set up the second step with an app, and show the recovery codes, this once."""
    if not request.user.has_post or second_step.step_missing(request) == "people:second-step":
        raise Http404
    form = DigitsForm(request.POST or None)
    if form.is_valid():
        codes = second_step.set_up(request, form.cleaned_data["code"])
        if codes:
            second_step.pass_second_step(request)
            record(request, Event.What.SECOND_STEP_SET)
            return render(
                request, "accounts/recovery_codes.html", {"codes": codes, "now": timezone.now()}
            )
        form.add_error("code", _("That is not right. Wait for the next digits and try them."))
    device = second_step.new_device(request)
    context = {
        "form": form,
        "qr": qr_code(device.config_url),
        "key": in_fours(second_step.readable_key(device)),
        "is_required": second_step.step_missing(request) is not None,
    }
    return render(request, "accounts/second_step_set.html", context)


@require_POST
@needs_recent_sign_in
def recovery_codes(request: SignedInRequest) -> HttpResponse:
    """Make new recovery codes in the place of the old, and show them, this once."""
    if not request.user.has_post or not second_step.has_second_step(request.user):
        raise Http404
    record(request, Event.What.RECOVERY_CODES_MADE)
    codes = RecoveryCode.issue(request.user)
    return render(request, "accounts/recovery_codes.html", {"codes": codes, "now": timezone.now()})


@require_POST
@needs_recent_sign_in
def remove(request: SignedInRequest) -> HttpResponse:
    """Remove one's own second step, where the school does not ask for it."""
    if not request.user.has_post or not second_step.has_second_step(request.user):
        raise Http404
    if any(post.school.requires_second_factor for post in request.user.posts_held):
        messages.warning(
            request, _("Your school asks for the sign-in code, so it cannot be removed.")
        )
        return redirect("people:account")
    second_step.remove(request.user)
    record(request, Event.What.SECOND_STEP_REMOVED, request.user)
    messages.success(request, _("You now sign in with your password alone."))
    return redirect("people:account")
