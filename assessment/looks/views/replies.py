"""All that a teacher answered, for the home that sent the work."""

from typing import Any

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_safe

from evidence.models import Submission
from portal.people.families.models.homes import ChildQuerySet
from portal.people.models import Child

PAGE_SIZE = 20


@require_safe
def replies(request: HttpRequest) -> HttpResponse:
    """List the replies to work of every child one is at home with, the newest first."""
    return show(request, own_children(request), None)


@require_safe
def child_replies(request: HttpRequest, child_pk: int) -> HttpResponse:
    """List the replies to the work of one child."""
    own = own_children(request)
    return show(request, own, get_object_or_404(own, pk=child_pk))


def own_children(request: HttpRequest) -> ChildQuerySet:
    """Return the children whom the reader is at home with."""
    return Child.objects.at_home_with(request.user)


def show(request: HttpRequest, own: ChildQuerySet, child: Child | None) -> HttpResponse:
    """Draw the replies to what the own home sent; of *child* alone, if given."""
    work = Submission.objects.from_home_of(request.user).active()
    answered = work.filter(looked_at__isnull=False, look__isnull=False)
    if child:
        answered = answered.filter(child=child)
    rows = answered.select_related("child", "day_plan", "look").prefetch_related("voice_replies")
    context: dict[str, Any] = {
        "page": Paginator(rows.order_by("-looked_at", "-pk"), PAGE_SIZE).get_page(
            request.GET.get("page")
        ),
        "child": child,
        "children": list(own),
    }
    return render(request, "looks/replies.html", context)
