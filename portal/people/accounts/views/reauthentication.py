"""Proving once more who one is, before something that needs it."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from portal.people.accounts.forms.sign_in import PasswordAgainForm
from portal.people.accounts.next_url import go_on
from portal.people.accounts.reauthentication import mark_fresh
from portal.people.accounts.sign_in import TooOftenError, ask_for_code
from portal.people.accounts.views.sign_in import TOO_OFTEN, too_often_words
from portal.people.asking import SignedInRequest


@require_http_methods(["GET", "HEAD", "POST"])
def again(request: SignedInRequest) -> HttpResponse:
    """Let staff type their password again, and send an adult at home a new code."""
    return password_again(request) if request.user.has_post else code_again(request)


def password_again(request: SignedInRequest) -> HttpResponse:
    """Take the password once more, and go on to the page that needs it."""
    form = PasswordAgainForm(request, request.POST or None)
    if form.is_valid():
        mark_fresh(request)
        request.session.cycle_key()
        return redirect(go_on(request))
    return render(request, "accounts/reauthentication.html", {"form": form})


def code_again(request: SignedInRequest) -> HttpResponse:
    """Send a code, which is then typed on the page for it; without an address, ask for a slip."""
    if request.method == "POST" and request.user.email:
        try:
            ask_for_code(request, request.user.email)
        except TooOftenError:
            messages.warning(request, too_often_words())
            return render(request, "accounts/reauthentication.html", status=TOO_OFTEN)
        return redirect("people:code")
    return render(request, "accounts/reauthentication.html")
