"""Setting a password by the link from a mail."""

from django.contrib import messages
from django.contrib.auth.decorators import login_not_required
from django.contrib.auth.forms import SetPasswordForm
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from portal.people.audit import record
from portal.people.models import Event
from portal.people.staff import set_password, user_of_link

KEY = "password link"


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
        return render(request, "people/set_password.html")
    form = SetPasswordForm(user, request.POST or None)
    if form.is_valid():
        form.save()
        del request.session[KEY]
        set_password(user)
        record(request, Event.What.PASSWORD_SET, user, who=user)
        messages.success(request, _("Your password is set. Sign in with it."))
        return redirect("people:staff-sign-in")
    return render(request, "people/set_password.html", {"form": form, "address": user.email})
