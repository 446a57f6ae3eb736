"""The statements of a school's own set: which kinds show them, their wording, retiring them."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from assessment.goals.forms import KindsForm, StatementForm, WhereForm
from assessment.goals.own_goal_sets import reword, set_retired, tick_kinds
from assessment.models import Framework, Goal

AT_ONCE = 8  # statements on one screen, each with all kinds


@require_http_methods(["GET", "HEAD", "POST"])
def kinds(request: HttpRequest, set_pk: int) -> HttpResponse:
    """Tick for a few statements at a time the kinds of number work that show them.

    Only those without any are gone through, unless all are asked for.
    """
    found = get_object_or_404(Framework.objects.kept_by(request.user), pk=set_pk)
    where = WhereForm(request.GET)
    goals = statements_after(found, where)
    if request.method == "POST":
        shown = [
            int(key) for key in request.POST.getlist("shown") if key.isascii() and key.isdigit()
        ]
        goals = list(found.goals.in_use().filter(pk__in=shown[:AT_ONCE]))
    if not goals:
        return redirect("assessment:goal-set", found.pk)
    given = request.POST if request.method == "POST" else None
    form = KindsForm(given, goals=goals)
    if request.method == "POST" and form.is_valid():
        tick_kinds(found, form.ticked)
        return redirect(where.address(found, goals[-1]))
    left = found.goals.in_use().without_kinds().count()
    context = {"set": found, "form": form, "everything": where.everything, "left": left}
    context["skip"] = where.address(found, goals[-1])
    status = 422 if request.method == "POST" else 200
    return render(request, "goals/goal_set_kinds.html", context, status=status)


def statements_after(framework: Framework, where: WhereForm) -> list[Goal]:
    """Return the next few statements in use, or of them those without kinds."""
    goals = framework.goals.in_use().filter(position__gt=where.after_place)
    return list((goals if where.everything else goals.without_kinds())[:AT_ONCE])


@require_http_methods(["GET", "HEAD", "POST"])
def statement(request: HttpRequest, set_pk: int, goal_pk: int) -> HttpResponse:
    """Change the wording of one statement; its tags stay with it."""
    goal = statement_of(request, set_pk, goal_pk)
    initial = {"text": goal.text, "strand": goal.strand, "note": goal.note}
    given = request.POST if request.method == "POST" else None
    form = StatementForm(given, initial=initial)
    if request.method == "POST" and form.is_valid():
        reword(goal, form.cleaned_data)
        return redirect("assessment:goal-set", set_pk)
    status = 422 if request.method == "POST" else 200
    context = {"goal": goal, "form": form, "tags": goal.tags.count()}
    return render(request, "goals/goal_statement.html", context, status=status)


@require_POST
def retire(request: HttpRequest, set_pk: int, goal_pk: int) -> HttpResponse:
    """Keep new tags from naming a statement."""
    set_retired(statement_of(request, set_pk, goal_pk), retired=True)
    return redirect("assessment:goal-statement", set_pk, goal_pk)


@require_POST
def bring_back(request: HttpRequest, set_pk: int, goal_pk: int) -> HttpResponse:
    """Let new tags name a statement again."""
    set_retired(statement_of(request, set_pk, goal_pk), retired=False)
    return redirect("assessment:goal-statement", set_pk, goal_pk)


def statement_of(request: HttpRequest, set_pk: int, goal_pk: int) -> Goal:
    """Return a statement of an own set, or answer 404."""
    own = Goal.objects.filter(framework__in=Framework.objects.kept_by(request.user))
    return get_object_or_404(own.select_related("framework"), pk=goal_pk, framework=set_pk)
