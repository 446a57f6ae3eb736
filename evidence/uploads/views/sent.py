"""What a family has sent: the list, one submission, and taking it back."""

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from evidence.models import Submission
from evidence.uploads import withdrawal
from evidence.uploads.arrivals import TooLateError
from evidence.uploads.moving import others_at_home
from evidence.uploads.views.receiving import too_late
from portal.people.models import Child

PAGE_SIZE = 20
# Apps above this one say here what became of a submission; the second is what stands otherwise.
REPLY = ("slots/reply_to_submission.html", "uploads/no_reply.html")
ABOVE = ("slots/above_sent.html", "components/nothing.html")
LINE = ("slots/reply_line.html", "components/nothing.html")


@require_safe
def sent(request: HttpRequest) -> HttpResponse:
    """List what the own home has sent, newest first."""
    own = Submission.objects.from_home_of(request.user).active().whole()
    page = Paginator(own, PAGE_SIZE).get_page(request.GET.get("page"))
    context = {
        "page": page,
        "above_sent": ABOVE,
        "reply_line": LINE,
        "several": Child.objects.at_home_with(request.user).count() > 1,
    }
    return render(request, "uploads/sent.html", context)


@require_safe
def submission(request: HttpRequest, token: str) -> HttpResponse:
    """Show one submission to the home it came from, with what became of it."""
    own = Submission.objects.from_home_of(request.user).active().whole()
    found = get_object_or_404(own, token=token)
    if request.method == "GET":
        found.note_opened()
    pieces = found.pieces.all()
    context = {
        "submission": found,
        "pieces": pieces,
        "waiting": not all(piece.is_final for piece in pieces),
        "may_turn": found.can_be_changed,
        "others_at_home": others_at_home(request.user, found) if found.can_be_changed else [],
        "reply_templates": REPLY,
    }
    return render(request, "uploads/submission.html", context)


@require_POST
def withdraw(request: HttpRequest, token: str) -> HttpResponse:
    """Take a submission back, with all its files, until it has been looked at."""
    own = Submission.objects.from_home_of(request.user).active()
    found = get_object_or_404(own.select_related("child", "day_plan"), token=token)
    try:
        withdrawal.withdraw(found)
    except TooLateError:
        return too_late(request, found.child, found.day_plan)
    messages.success(request, _("Taken back. Nobody can see it any more."))
    return redirect("evidence:sent")
