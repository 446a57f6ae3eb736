"""Stopping the weekly mail, from a link in it: no sign-in, and nothing else can be done here."""

from django.contrib.auth.decorators import login_not_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.csrf import csrf_exempt
from django.views.decorators.http import require_http_methods

from assessment.weekly.mails import STOP
from portal.people.models import Home


@csrf_exempt  # A mail program presses the button without having been here. RFC 8058, section 3.1.
@login_not_required
@require_http_methods(["GET", "HEAD", "POST"])
def stop_mail(request: HttpRequest, token: str) -> HttpResponse:
    """Show a button that stops (or starts again) a home's weekly mail, and do it on POST.

    GET changes nothing: programs that check mail for bad links follow every one of them.
    """
    home = Home.objects.filter(pk=STOP.key_of(token)).first()
    if home is None:
        raise Http404
    if request.method == "POST":
        home.wants_mail = "start" in request.POST
        Home.objects.filter(pk=home.pk).update(wants_mail=home.wants_mail)
    context = {"home": home, "done": request.method == "POST"}
    return render(request, "weekly/unsubscribe.html", context)
