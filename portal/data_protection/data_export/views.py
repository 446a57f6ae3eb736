"""One copy: how far it is, and the file."""

from pathlib import Path

from django.http import FileResponse, Http404, HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_safe

from portal.data_protection.data_export.files import path_of
from portal.data_protection.models import DataExport
from portal.people.accounts.reauthentication import needs_proof
from portal.people.audit.log import record
from portal.people.models import Event


@require_safe
def copy_page(request: HttpRequest, token: str) -> HttpResponse:
    """Show how far a copy is, and where to fetch it."""
    return render(request, "data_export/copy.html", {"copy": copy_of(request, token)})


@require_safe
def copy_state(request: HttpRequest, token: str) -> HttpResponse:
    """Give the part of the page that tells it; it asks for itself again until the copy is made."""
    return render(request, "data_export/_copy_state.html", {"copy": copy_of(request, token)})


@require_safe
def copy_file(request: HttpRequest, token: str) -> HttpResponseBase:
    """Return the file of a copy that is made."""
    return needs_proof(file_of)(request, copy_of(request, token))


def file_of(request: HttpRequest, copy: DataExport) -> HttpResponseBase:
    """Return the file of *copy* to who has proved who they are."""
    try:
        path: Path = path_of(copy.file)
        file = path.open("rb")
    except FileNotFoundError:
        raise Http404 from None
    if request.method == "GET":
        record(request, Event.What.EXPORTED, copy.child, school=copy.child.school)
    name = f"copy-{copy.asked_at:%Y-%m-%d}.zip"
    response = FileResponse(file, as_attachment=True, filename=name, content_type="application/zip")
    response.headers["Cache-Control"] = "private, no-store"
    response.headers["Content-Security-Policy"] = "sandbox"
    return response


def copy_of(request: HttpRequest, token: str) -> DataExport:
    """Return a copy that the reader may have, or answer 404."""
    own = DataExport.objects.visible_to(request.user).in_date().select_related("child__school")
    return get_object_or_404(own, token=token)
