"""The leaves of a child's work, for the home that sent it: the covers, and one leaf a page."""

from django.db.models import Prefetch
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_safe

from assessment.leaves.leaves import first_leaf, leaf_of
from assessment.models import Tag
from evidence.models import Submission
from portal.people.models import Child


@require_safe
def leaves(request: HttpRequest) -> HttpResponse:
    """Show the cover of the only child one is at home with, or one cover for each."""
    children = list(Child.objects.at_home_with(request.user))
    if len(children) == 1:
        return cover(request, children[0])
    return render(request, "leaves/covers.html", {"children": children})


@require_safe
def child_leaves(request: HttpRequest, child_pk: int) -> HttpResponse:
    """Show the cover of one child."""
    return cover(request, get_object_or_404(Child.objects.at_home_with(request.user), pk=child_pk))


@require_safe
def leaf(request: HttpRequest, token: str) -> HttpResponse:
    """Show one leaf to the home it came from. Its reply counts as opened from then on."""
    tags = Prefetch("tags", Tag.objects.select_related("goal").order_by("goal__position"))
    own = Submission.objects.from_home_of(request.user).active().whole()
    full = own.select_related("child", "day_plan", "look").prefetch_related("voice_replies", tags)
    work = get_object_or_404(full, token=token)
    if request.method == "GET":
        work.note_opened()
    return render(request, "leaves/leaf.html", {"leaf": leaf_of(request.user, work)})


def cover(request: HttpRequest, child: Child) -> HttpResponse:
    """Draw the cover of *child*, which leads to the newest leaf."""
    context = {"child": child, "newest": first_leaf(request.user, child)}
    return render(request, "leaves/cover.html", context)
