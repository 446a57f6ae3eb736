"""What a family's phone keeps for when there is no line."""

import hashlib
from pathlib import Path

from django.contrib.auth.decorators import login_not_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import etag, require_safe

SCRIPT = Path(__file__).resolve().parents[2] / "static" / "evidence" / "sw.js"


def mark_of_script(request: HttpRequest) -> str:
    """Return what tells one state of the script from another."""
    return f'"{hashlib.sha256(SCRIPT.read_bytes()).hexdigest()[:24]}"'


@login_not_required
@require_safe
@etag(mark_of_script)
def service_worker(request: HttpRequest) -> HttpResponse:
    """Return the script that opens kept pages; from here it may do that for the whole portal.

    Browsers would ask for it with every page, and may leave that for an hour.
    """
    return HttpResponse(
        SCRIPT.read_text(encoding="utf-8"),
        content_type="text/javascript; charset=utf-8",
        headers={"Service-Worker-Allowed": "/", "Cache-Control": "max-age=3600"},
    )


@login_not_required
@require_safe
def no_line(request: HttpRequest) -> HttpResponse:
    """Return the page that stands in for one that is not kept."""
    return render(request, "uploads/no_line.html")
