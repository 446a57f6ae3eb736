"""What to do with a worry about a child: not here."""

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe


@require_safe
def worry(request: HttpRequest) -> HttpResponse:
    """Tell staff who to go to, at once and in person."""
    if not request.user.has_post:
        raise Http404
    return render(request, "data_protection/worry.html", {"school": request.school})
