"""One piece: its clean files, how far it has got, and taking it back."""

import datetime as dt

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from evidence.models import Piece, Rendition, Submission
from evidence.storage.serving import private_file
from evidence.uploads.arrivals import TooLateError
from evidence.uploads.views.receiving import too_late
from evidence.uploads.withdrawal import remove_piece
from portal.people.audit.log import record
from portal.people.models import Event

# Small pictures stand in lists by the dozen; opening a piece is what is written down of staff.
SMALL = (Rendition.Role.THUMB, Rendition.Role.POSTER)
ONE_SITTING = dt.timedelta(minutes=10)


@require_safe
def piece_file(request: HttpRequest, token: str, role: str) -> HttpResponseBase:
    """Return one clean file of a piece, or the ranges of it that are asked for.

    Who may see it is asked again for every request, and so for every range of a playing clip.
    """
    page = request.GET.get("page", "1")
    if (
        not page.isascii()
        or not page.isdigit()
        or request.headers.get("Sec-Fetch-Site") == "cross-site"
    ):
        raise Http404
    files = Rendition.objects.visible_to(request.user).select_related("piece")
    file = get_object_or_404(files, piece__token=token, role=role, page=int(page[:4]))
    response = private_file(request, file)
    if request.user.has_post and role not in SMALL:
        record(request, Event.What.MEDIA_SEEN, file.piece, once_within=ONE_SITTING)
    return response


@require_safe
def piece_state(request: HttpRequest, token: str) -> HttpResponse:
    """Return the part of a page that shows a piece; it asks for itself again until it is final."""
    return show_piece(request, token)


def show_piece(request: HttpRequest, token: str) -> HttpResponse:
    """Show one piece by itself to whoever may see it. Raises Http404."""
    seen = Piece.objects.visible_to(request.user).active().whole()
    piece = get_object_or_404(seen, token=token)
    may_turn = request.user.has_post or piece.submission.can_be_changed
    return render(request, "uploads/piece.html", {"piece": piece, "may_turn": may_turn})


@require_POST
def remove(request: HttpRequest, token: str) -> HttpResponse:
    """Take one piece back until the submission has been looked at."""
    own = Submission.objects.from_home_of(request.user)
    pieces = Piece.objects.active().filter(submission__in=own)
    related = pieces.select_related("submission__child", "submission__day_plan")
    piece = get_object_or_404(related, token=token)
    try:
        stands = remove_piece(piece)
    except TooLateError:
        return too_late(request, piece.submission.child, piece.submission.day_plan)
    messages.success(request, _("Taken back. Nobody can see it any more."))
    if not stands:
        return redirect("evidence:sent")
    return redirect("evidence:submission", piece.submission.token)
