"""Turning a piece by a quarter, on the family's page or the teacher's."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, HttpResponseBadRequest
from django.shortcuts import get_object_or_404, redirect, resolve_url
from django.utils.http import url_has_allowed_host_and_scheme
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from evidence.models import Piece, Submission
from evidence.uploads import turn_requests
from evidence.uploads.arrivals import TooLateError
from evidence.uploads.views.pieces import show_piece
from evidence.uploads.views.sending import too_late

TURNS = ("0", "90", "180", "270")


@require_POST
def turn(request: HttpRequest, token: str) -> HttpResponse:
    """Have one piece shown turned, `turn` being degrees clockwise of what came.

    Staff may at any time, the family until the submission has been looked at. A script gets the
    piece as `piece_state` shows it; without one, the page that was left comes again.
    """
    seen = Piece.objects.visible_to(request.user).active()
    pieces = seen.select_related("submission__child", "submission__day_plan")
    piece = get_object_or_404(pieces, token=token)
    degrees = request.POST.get("turn", "")
    if degrees not in TURNS:
        return HttpResponseBadRequest()
    taught = Submission.objects.taught_by(request.user).filter(pk=piece.submission_id).exists()
    ask = turn_requests.ask if taught else turn_requests.ask_for_family
    try:
        ask(piece, int(degrees))
    except TooLateError:
        return too_late(request, piece.submission.child, piece.submission.day_plan)
    if "HX-Request" in request.headers:
        return show_piece(request, token)
    messages.info(request, _("It is being turned. Look again in a moment."))
    return redirect(page_left(request, piece))


def page_left(request: HttpRequest, piece: Piece) -> str:
    """Return the address of the page on which the button stood, if it is one of ours."""
    back = request.POST.get("back", "")
    if back.startswith("/") and url_has_allowed_host_and_scheme(back, allowed_hosts=None):
        return back
    return resolve_url("evidence:submission", piece.submission.token)
