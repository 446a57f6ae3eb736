"""Choosing the goals that a class is tagged against."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from assessment.goals.forms import ChooseForm
from assessment.goals.goal_sets import choose_framework, framework_of, load_frameworks
from assessment.models import Framework, Tag
from portal.people.models import SchoolClass


@require_http_methods(["GET", "HEAD", "POST"])
def choose(request: HttpRequest, class_pk: int) -> HttpResponse:
    """Choose the goals of a class. A change mid-year keeps all tags, and can be undone."""
    run = SchoolClass.objects.run_by(request.user).select_related("year__school")
    school_class = get_object_or_404(run, pk=class_pk)
    if not Framework.objects.filter(school=None).exists():
        load_frameworks()
    now = framework_of(school_class)
    given = request.POST if request.method == "POST" else None
    form = ChooseForm(given, school=school_class.school, initial={"framework": now})
    if request.method == "POST" and form.is_valid():
        choose_framework(school_class, form.cleaned_data["framework"])
        page = reverse("assessment:class-goals", args=[school_class.pk])
        return redirect(f"{page}?before={now.pk}")
    before = ChooseForm({"framework": request.GET.get("before")}, school=school_class.school)
    context = {
        "school_class": school_class,
        "form": form,
        "now": now,
        "before": before.cleaned_data["framework"] if before.is_valid() else None,
        "tags": Tag.objects.visible_to(request.user)
        .filter(child__school_class=school_class)
        .exclude(goal__framework=now)
        .count(),
    }
    status = 422 if request.method == "POST" else 200
    return render(request, "goals/class_goals.html", context, status=status)
