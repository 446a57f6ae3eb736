"""Putting the first steps away, for good, and having them shown again."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from portal.people.models import User


@require_POST
def put_away(request: HttpRequest) -> HttpResponse:
    """Stop showing the first steps."""
    User.objects.filter(pk=request.user.pk).update(first_steps_since=None)
    messages.success(request, _("Put away. Your account page can show the first steps again."))
    return redirect("home")


@require_POST
def show_again(request: HttpRequest) -> HttpResponse:
    """Show the first steps once more, none of them ticked."""
    User.objects.filter(pk=request.user.pk).update(first_steps_since=timezone.now())
    return redirect("home")
