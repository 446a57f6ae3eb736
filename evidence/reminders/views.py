"""Choosing to be reminded, and stopping it."""

from typing import Any

from django import forms
from django.contrib import messages
from django.contrib.auth.decorators import login_not_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.decorators.csrf import csrf_exempt
from django.views.decorators.http import require_http_methods, require_POST

from evidence.reminders.choices import (
    FIRST_HOUR,
    LAST_HOUR,
    USUAL_HOUR,
    PushPlace,
    Reminder,
    mark_of,
)
from evidence.reminders.keys import public_key
from evidence.reminders.push import may_be_push_service
from evidence.reminders.sending import STOP


class ReminderForm(forms.Form):
    """At which hour, and whether by mail."""

    by_mail = forms.BooleanField(label=gettext_lazy("Remind me by mail"), required=False)
    hour = forms.TypedChoiceField(
        label=gettext_lazy("At what time"),
        coerce=int,
        choices=[(hour, f"{hour}:00") for hour in range(FIRST_HOUR, LAST_HOUR + 1)],
        initial=USUAL_HOUR,
        widget=forms.Select(attrs={"class": "form-select"}),
    )


@require_http_methods(["GET", "HEAD", "POST"])
def reminders(request: HttpRequest) -> HttpResponse:
    """Show what is chosen, and change it. Nothing is chosen until somebody does."""
    if not request.user.is_family:
        raise Http404
    kept = Reminder.objects.of(request.user).first()
    initial = {"by_mail": kept.by_mail, "hour": kept.hour} if kept else {}
    form = ReminderForm(request.POST if request.method == "POST" else None, initial=initial)
    if request.method == "POST" and form.is_valid():
        choose(request, form.cleaned_data)
        return redirect("evidence:reminders")
    browsers = PushPlace.objects.filter(adult=request.user).count()
    context: dict[str, Any] = {
        "form": form,
        "by_mail": form["by_mail"].value(),
        "is_on": bool(kept and (kept.by_mail or browsers)),
        "browsers": browsers,
        "key": public_key(),
    }
    status = 422 if form.errors else 200
    return render(request, "reminders/reminders.html", context, status=status)


def choose(request: HttpRequest, wanted: dict[str, Any]) -> None:
    """Keep what is wanted; where nothing is, no row is kept."""
    has_place = PushPlace.objects.filter(adult=request.user).exists()
    if not wanted["by_mail"] and not has_place:
        Reminder.stop(request.user.pk)
        messages.success(request, _("We do not remind you."))
        return
    Reminder.objects.update_or_create(adult=request.user, defaults=wanted)
    messages.success(request, _("Saved. You can stop it here at any time."))


@require_POST
def add_place(request: HttpRequest) -> HttpResponse:
    """Keep the browser in hand as one that shows reminders."""
    endpoint = request.POST.get("endpoint", "")
    if not request.user.is_family:
        raise Http404
    if not may_be_push_service(endpoint):
        return HttpResponse(status=400)
    PushPlace.keep(request.user, endpoint)
    return HttpResponse(status=204)


@require_POST
def remove_place(request: HttpRequest) -> HttpResponse:
    """Forget a browser of one's own: the one in hand, or without an endpoint all of them."""
    own = PushPlace.objects.filter(adult=request.user)
    if endpoint := request.POST.get("endpoint", ""):
        own.filter(endpoint_hash=mark_of(endpoint)).delete()
        return HttpResponse(status=204)
    own.delete()
    return redirect("evidence:reminders")


@require_POST
def stop_all(request: HttpRequest) -> HttpResponse:
    """Stop every reminder to who is signed in, with one press."""
    Reminder.stop(request.user.pk)
    messages.success(request, _("We do not remind you any more."))
    return redirect("evidence:reminders")


@csrf_exempt  # A mail program presses the button without having been here. RFC 8058, section 3.1.
@login_not_required
@require_http_methods(["GET", "HEAD", "POST"])
def stop(request: HttpRequest, token: str) -> HttpResponse:
    """Show a button that stops the reminders to one adult, and do it on POST.

    GET changes nothing: programs that check mail for bad links follow every one of them.
    """
    adult = STOP.key_of(token)
    if adult is None:
        raise Http404
    if request.method == "POST":
        Reminder.stop(adult)
    return render(request, "reminders/stop.html", {"done": request.method == "POST"})
