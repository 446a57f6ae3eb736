"""Setting a password by the link from a mail."""

from django.contrib import messages
from django.contrib.auth.decorators import login_not_required
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from portal.people.accounts.email_proof import TakenError, set_password
from portal.people.accounts.forms.account import PasswordForm
from portal.people.accounts.forms.sign_in import ForgottenForm
from portal.people.accounts.known_browsers import note_been_here
from portal.people.accounts.password_reset import user_of_link
from portal.people.accounts.rate_limits import may_ask_for_code
from portal.people.accounts.sign_in import browser_of
from portal.people.accounts.staff import want_new_password
from portal.people.accounts.views.sign_in import TOO_OFTEN, too_often_words
from portal.people.audit.log import record
from portal.people.models import Event

KEY = "password link"


@login_not_required
@require_http_methods(["GET", "HEAD", "POST"])
def forgotten(request: HttpRequest) -> HttpResponse:
    """Mail staff a link to set a new password; every address is answered alike."""
    form = ForgottenForm(request.POST or None)
    if form.is_valid():
        email = form.cleaned_data["email"]
        if not may_ask_for_code(request, email, browser_of(request)):
            form.add_error(None, too_often_words())
            return render(request, "accounts/password_reset.html", {"form": form}, status=TOO_OFTEN)
        want_new_password(email)
        return render(request, "accounts/password_reset.html", {"asked": True})
    return render(request, "accounts/password_reset.html", {"form": form})


@login_not_required
@require_http_methods(["GET", "HEAD", "POST"])
def set_by_link(request: HttpRequest) -> HttpResponse:
    """Take a new password from the holder of a link. Opening the link uses nothing up.

    The key goes from the address into the session at once, so that no history keeps it.
    """
    if key := request.GET.get("key"):
        request.session[KEY] = key[:200]
        return redirect("people:set-password")
    user = user_of_link(request.session.get(KEY, ""))
    if user is None:
        return render(request, "accounts/set_password.html")
    form = PasswordForm(user, request.POST or None)
    if form.is_valid():
        try:
            with transaction.atomic():
                form.save()
                set_password(user)
        except TakenError:
            return render(request, "accounts/set_password.html")
        del request.session[KEY]
        note_been_here(request, user)
        record(request, Event.What.PASSWORD_SET, user, who=user)
        messages.success(request, _("Your password is set. Sign in with it."))
        return redirect("people:staff-sign-in")
    return render(request, "accounts/set_password.html", {"form": form, "address": user.email})
