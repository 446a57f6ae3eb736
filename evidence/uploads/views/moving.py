"""Putting a piece right that was sent for the wrong child, or is of two children."""

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse, HttpResponseBadRequest
from django.shortcuts import get_object_or_404, redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from evidence.models import Piece, Submission
from evidence.submissions.permissions import chosen
from evidence.uploads import moving
from evidence.uploads.arrivals import NotSavedError, TooLateError
from evidence.uploads.upload_handler import NOT_SAVED
from evidence.uploads.views.receiving import too_late


@require_POST
def move(request: HttpRequest, token: str) -> HttpResponse:
    """Move a piece to another child of its home, `to`, or have it for both, `also`.

    Until either child's work has been looked at. 404 for a child that is not at home there.
    """
    own = Submission.objects.from_home_of(request.user)
    pieces = Piece.objects.active().filter(submission__in=own)
    related = pieces.select_related("submission__child", "submission__day_plan", "submission__home")
    piece = get_object_or_404(related, token=token)
    work = piece.submission
    both = "also" in request.POST
    number = request.POST.get("also" if both else "to", "")
    if not number:
        return HttpResponseBadRequest()
    others = chosen(moving.others_at_home(request.user, work), [number])
    if not others:
        raise Http404
    try:
        (moving.share if both else moving.move)(piece, others[0])
    except TooLateError:
        return too_late(request, work.child, work.day_plan)
    except (moving.NoRoomError, NotSavedError) as error:
        messages.error(request, str(error) or NOT_SAVED)
        return redirect("evidence:submission", work.token)
    names = {"name": work.child.first_name, "other": others[0].child.first_name}
    of_both = _("It is with the work of %(name)s and %(other)s now.")
    messages.success(
        request, (of_both if both else _("It is with the work of %(other)s now.")) % names
    )
    stands = Submission.objects.active().filter(pk=work.pk).exists()
    return redirect("evidence:submission", work.token) if stands else redirect("evidence:sent")
