"""Who has looked at what was sent: for the home that sent it, and with names for a lead."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_safe

from evidence.models import Piece, Submission
from evidence.submissions.who_looked import by_piece, whole_copies_of
from portal.people.models import Child

LATEST = 30  # pieces of work on the page of a child


@require_safe
def at_work(request: HttpRequest, token: str) -> HttpResponse:
    """Show who has looked at one piece of work, by role and time."""
    own = Submission.objects.from_home_of(request.user).select_related("child", "day_plan")
    work = get_object_or_404(own, token=token)
    return show(request, work.child, [work], work)


@require_safe
def at_child(request: HttpRequest, child_pk: int) -> HttpResponse:
    """Show who has looked at all that the own home sent for a child, the latest work first."""
    child = get_object_or_404(Child.objects.at_home_with(request.user), pk=child_pk)
    own = Submission.objects.from_home_of(request.user).filter(child=child)
    return show(request, child, list(own[:LATEST]))


def show(
    request: HttpRequest, child: Child, work: list[Submission], only: Submission | None = None
) -> HttpResponse:
    """Show the looks at each piece of *work*; for all of a child also copies that were taken."""
    pieces = Piece.objects.filter(submission__in=work).select_related("submission__day_plan")
    context = {
        "child": child,
        "work": only,
        "copies": [] if only else whole_copies_of(child),
        "rows": by_piece(list(pieces.order_by("-submission__sent_at", "position", "pk"))),
    }
    return render(request, "submissions/who_looked.html", context)
