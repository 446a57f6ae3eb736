"""The front door, and whether the portal is well."""

from django.contrib.auth.decorators import login_not_required
from django.db import connection
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_safe

from portal.people.accounts.sign_in import place_of


@require_safe
def home(request: HttpRequest) -> HttpResponse:
    """Send each person to their own place on the loop."""
    return redirect(place_of(request.user))


@login_not_required
@require_safe
def healthz(request: HttpRequest) -> HttpResponse:
    """Answer 200 when pages can be served and the database answers."""
    with connection.cursor() as cursor:
        cursor.execute("SELECT 1")
    return HttpResponse("ok\n", content_type="text/plain")
