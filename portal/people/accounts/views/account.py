"""One's own account: the address, the devices signed in, the password."""

from django.contrib import messages
from django.contrib.auth import update_session_auth_hash
from django.db import transaction
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from portal.jobs.sending import sending
from portal.people.accounts.email_proof import TakenError, prove
from portal.people.accounts.forms.account import NewAddressForm, PasswordForm
from portal.people.accounts.forms.sign_in import CodeForm
from portal.people.accounts.rate_limits import may_ask_for_code
from portal.people.accounts.reauthentication import needs_recent_sign_in
from portal.people.accounts.second_step import has_second_step
from portal.people.accounts.sessions import DEVICE
from portal.people.accounts.sign_in import BROWSER, browser_of, send_code
from portal.people.accounts.views.sign_in import TOO_OFTEN, too_often_words
from portal.people.asking import SignedInRequest
from portal.people.audit.log import record
from portal.people.jobs import mail_address_notice
from portal.people.models import AddressNotice, Event, SignInCode, User


@require_safe
def account(request: SignedInRequest) -> HttpResponse:
    """Show what is known of who is signed in, and where they are signed in."""
    context = {
        "devices": request.user.devices.all(),
        "this_device": request.session.get(DEVICE),
        "has_second_step": request.user.has_post and has_second_step(request.user),
    }
    return render(request, "accounts/account.html", context)


@require_POST
def stay(request: SignedInRequest) -> HttpResponse:
    """Note that somebody is still there: their time begins again with this request."""
    return HttpResponse(status=204)


@require_POST
def end_device(request: SignedInRequest, device_pk: int) -> HttpResponse:
    """Sign one device of one's own out."""
    get_object_or_404(request.user.devices, pk=device_pk)
    request.user.devices.filter(pk=device_pk).end()
    record(request, Event.What.DEVICES_ENDED, request.user)
    messages.success(request, _("Signed out there."))
    return redirect("people:account")


@require_POST
def end_other_devices(request: SignedInRequest) -> HttpResponse:
    """Sign every device out but the one in hand."""
    end_devices_but_this(request)
    messages.success(request, _("You are now signed in on this device only."))
    return redirect("people:account")


def end_devices_but_this(request: SignedInRequest) -> None:
    """End the sessions of who is signed in, apart from this one."""
    request.user.devices.exclude(pk=request.session.get(DEVICE, 0)).end()
    record(request, Event.What.DEVICES_ENDED, request.user)


@require_http_methods(["GET", "HEAD", "POST"])
@needs_recent_sign_in
def address(request: SignedInRequest) -> HttpResponse:
    """Ask for a new address, and send a code there. A taken one gets no mail, and no word of it."""
    form = NewAddressForm(request.POST or None)
    if form.is_valid():
        new = form.cleaned_data["email"]
        if not may_ask_for_code(request, new, browser_of(request)):
            form.add_error(None, too_often_words())
            return render(request, "accounts/address.html", {"form": form}, status=TOO_OFTEN)
        taken = User.objects.proved(new).exists()
        send_code(request, None if taken else request.user, new)
        return redirect("people:address-code")
    return render(request, "accounts/address.html", {"form": form})


@require_http_methods(["GET", "HEAD", "POST"])
@needs_recent_sign_in
def address_code(request: SignedInRequest) -> HttpResponse:
    """Take the code that proves the new address, and change to it."""
    form = CodeForm(request.POST or None)
    if form.is_valid():
        browser = request.session.get(BROWSER, "")
        new = SignInCode.spend_for_address(request.user, browser, form.cleaned_data["code"])
        if new and change_address(request, new):
            messages.success(request, _("Your address is changed."))
            return redirect("people:account")
        form.add_error("code", _("This code is wrong or too old. Ask for a new one."))
    return render(request, "accounts/address_code.html", {"form": form})


def change_address(request: SignedInRequest, new: str) -> bool:
    """Change the address of who is signed in, and tell the old one; False: taken since."""
    user, old = request.user, request.user.email if request.user.is_proved else ""
    try:
        prove(user, new)
    except TakenError:
        return False
    end_devices_but_this(request)
    record(request, Event.What.ADDRESS_CHANGED, user)
    if old:
        notice = AddressNotice.objects.create(user=user, email=old)
        transaction.on_commit(sending(mail_address_notice, notice.pk))
    return True


@require_http_methods(["GET", "HEAD", "POST"])
@needs_recent_sign_in
def password(request: SignedInRequest) -> HttpResponse:
    """Let staff change their password; whoever is signed in elsewhere is signed out."""
    if not request.user.has_post:
        raise Http404
    form = PasswordForm(request.user, request.POST or None)
    if form.is_valid():
        form.save()
        update_session_auth_hash(request, request.user)
        end_devices_but_this(request)
        record(request, Event.What.PASSWORD_SET, request.user)
        messages.success(request, _("Your password is changed."))
        return redirect("people:account")
    return render(request, "accounts/password.html", {"form": form})
