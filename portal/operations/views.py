"""Figures for whoever runs the portal: counts only, for a program that asks with the token."""

import secrets

from django.conf import settings
from django.contrib.auth.decorators import login_not_required
from django.http import Http404, HttpRequest, HttpResponse
from django.views.decorators.http import require_safe

from portal.operations.metrics import all_figures
from portal.operations.openmetrics import CONTENT_TYPE, exposition


@login_not_required
@require_safe
def metrics(request: HttpRequest) -> HttpResponse:
    """Show the figures to who has the token; to others, and where none is set, nothing is there."""
    given = request.headers.get("Authorization", "").encode()
    wanted = f"Bearer {settings.METRICS_TOKEN}".encode()
    if not settings.METRICS_TOKEN or not secrets.compare_digest(given, wanted):
        raise Http404
    return HttpResponse(exposition(all_figures()), content_type=CONTENT_TYPE)
