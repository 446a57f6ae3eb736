"""Sets of goals: those shipped, and a school's own from file to use."""

from django.contrib import messages
from django.core.paginator import Paginator
from django.db.models import Count, Q, QuerySet
from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from assessment import frameworks
from assessment.goals.forms import FileForm
from assessment.goals.goal_sets import load_frameworks
from assessment.goals.own_goal_sets import accept, as_framework, changes, make_draft, set_away
from assessment.models import Framework

PAGE_SIZE = 40


@require_safe
def goal_sets(request: HttpRequest) -> HttpResponse:
    """List the sets of goals, the school's own first."""
    only_for_keepers(request)
    if not Framework.objects.filter(school=None).exists():
        load_frameworks()
    in_use = Count("goals", filter=Q(goals__retired_at=None))
    seen = Framework.objects.visible_to(request.user)
    sets = seen.with_unconfirmed().annotate(in_use=in_use)
    context = {
        "own": sets.exclude(school=None),
        "shipped": sets.filter(school=None),
    }
    return render(request, "goals/goal_sets.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
def bring_in(request: HttpRequest) -> HttpResponse:
    """Read a file into a draft that can be looked over before anything uses it."""
    only_for_keepers(request)
    posted = request.method == "POST"
    form = FileForm(*(request.POST, request.FILES) if posted else ())
    if posted and form.is_valid():
        draft = make_draft(request.school, form.cleaned_data["read"])
        return redirect("assessment:goal-set", draft.pk)
    status = 422 if posted else 200
    return render(request, "goals/goal_set_file.html", {"form": form}, status=status)


@require_safe
def goal_set(request: HttpRequest, set_pk: int) -> HttpResponse:
    """Show one set: what was read, and what may be done with it."""
    found = get_object_or_404(Framework.objects.visible_to(request.user), pk=set_pk)
    goals = found.goals.all()
    context = {
        "set": found,
        "own": found.school_id is not None,
        "page": Paginator(goals, PAGE_SIZE).get_page(request.GET.get("page")),
        "in_use": goals.in_use().count(),
        "without": goals.in_use().without_kinds().count(),
        "changes": changes(found) if found.draft else None,
        "classes": found.classes.filter(school_class__year__school=request.school).count(),
    }
    return render(request, "goals/goal_set.html", context)


@require_POST
def accept_draft(request: HttpRequest, set_pk: int) -> HttpResponse:
    """Take a draft into use."""
    draft = get_object_or_404(own_sets(request).filter(draft=True), pk=set_pk)
    kept = accept(draft)
    messages.success(request, _("Taken into use. Classes can choose it now."))
    return redirect("assessment:goal-set", kept.pk)


@require_POST
def throw_away(request: HttpRequest, set_pk: int) -> HttpResponse:
    """Lose a draft; nothing uses it."""
    get_object_or_404(own_sets(request).filter(draft=True), pk=set_pk).delete()
    messages.success(request, _("Thrown away. Nothing was changed."))
    return redirect("assessment:goal-sets")


@require_POST
def put_away(request: HttpRequest, set_pk: int) -> HttpResponse:
    """Stop offering a school's own set to classes."""
    found = get_object_or_404(own_sets(request).filter(draft=False), pk=set_pk)
    set_away(found, away=True)
    messages.success(request, _("Put away. Classes that have it keep it, and so do all tags."))
    return redirect("assessment:goal-set", found.pk)


@require_POST
def bring_back(request: HttpRequest, set_pk: int) -> HttpResponse:
    """Offer an own set that was put away again."""
    found = get_object_or_404(own_sets(request).filter(draft=False), pk=set_pk)
    set_away(found, away=False)
    return redirect("assessment:goal-set", found.pk)


@require_safe
def as_case(request: HttpRequest, set_pk: int) -> HttpResponse:
    """Return a set as a package in the open CASE format."""
    found = get_object_or_404(Framework.objects.visible_to(request.user), pk=set_pk)
    try:
        package = frameworks.write_case(as_framework(found), found.changed_at)
    except frameworks.FrameworkError:
        raise Http404 from None  # No statement of it is in use.
    answer = JsonResponse(package, json_dumps_params={"indent": 2, "ensure_ascii": False})
    answer["Content-Disposition"] = f'attachment; filename="{found.slug}.case.json"'
    return answer


def own_sets(request: HttpRequest) -> QuerySet[Framework]:
    """Return the sets that the reader may change; what is shipped is not among them."""
    return Framework.objects.kept_by(request.user)


def only_for_keepers(request: HttpRequest) -> None:
    """Answer 404 to whoever keeps no goals."""
    if not Framework.objects.keeps_any(request.user).exists():
        raise Http404
