"""One-click ways in, for the invented school only."""

from django.contrib.auth import get_user_model, login
from django.contrib.auth.decorators import login_not_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_safe

from portal.demo.cast import CAST
from portal.people.views.door import MODEL_BACKEND


@login_not_required
@require_safe
def start(request: HttpRequest) -> HttpResponse:
    """Let a visitor choose whom to come in as."""
    return render(request, "portal/demo_start.html", {"cast": CAST})


@login_not_required
@require_safe
def come_in_as(request: HttpRequest, key: str) -> HttpResponse:
    """Sign the visitor in as one of the cast."""
    person = next((each for each in CAST if each.key == key), None)
    if person is None:
        raise Http404
    user = get_object_or_404(get_user_model(), email=person.email)
    login(request, user, backend=MODEL_BACKEND)
    return redirect("home")
