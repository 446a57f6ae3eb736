"""Keeping the groups of a class: who gets the work at which depth."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from portal.people.models import Group, SchoolClass
from tasks.plans import groups as grouping
from tasks.plans.forms.groups import GroupForm
from tasks.plans.planning import PlanningError
from tasks.plans.views.plans import class_run, telling


@require_http_methods(["GET", "HEAD", "POST"])
def groups(request: HttpRequest, class_pk: int) -> HttpResponse:
    """List the groups of a class, and make another."""
    school_class = class_run(request, class_pk)
    form = GroupForm(request.POST or None, school_class=school_class)
    if request.method == "POST" and form.is_valid() and kept(request, form):
        return redirect("tasks:groups", school_class.pk)
    every = list(school_class.groups.prefetch_related("children"))
    grouped = {child.pk for group in every for child in group.children.all()}
    context = {
        "school_class": school_class,
        "form": form,
        "groups": [(group, members(group, school_class)) for group in every],
        "without": [child for child in school_class.children.all() if child.pk not in grouped],
    }
    return render(request, "plans/groups.html", context)


def members(group: Group, school_class: SchoolClass) -> list[str]:
    """Return the names of the children in *group* who are in the class now."""
    children = group.children.all()
    return [str(child) for child in children if child.school_class_id == school_class.pk]


@require_http_methods(["GET", "HEAD", "POST"])
def group(request: HttpRequest, class_pk: int, group_pk: int) -> HttpResponse:
    """Ask for another name or depth of a group, and for its children."""
    school_class = class_run(request, class_pk)
    found = get_object_or_404(school_class.groups, pk=group_pk)
    form = GroupForm(request.POST or None, instance=found, school_class=school_class)
    if request.method == "POST" and form.is_valid() and kept(request, form):
        return redirect("tasks:groups", school_class.pk)
    context = {"school_class": school_class, "group": found, "form": form}
    return render(request, "plans/group.html", context)


def kept(request: HttpRequest, form: GroupForm) -> bool:
    """Keep the group of a valid form and say who left another for it; False if it cannot be."""
    leaving = form.leaving()
    try:
        grouping.keep_group(form.instance, form.cleaned_data["children"])
    except PlanningError as refusal:
        form.add_error("name", str(refusal))
        return False
    said = [_("%(group)s is saved.") % {"group": form.instance.name}]
    said += [_("%(child)s left %(group)s.") % {"child": c, "group": g} for c, g in leaving]
    messages.success(request, " ".join(said))
    return True


@require_POST
def remove_group(request: HttpRequest, class_pk: int, group_pk: int) -> HttpResponse:
    """Remove a group and its versions of drafted work."""
    school_class = class_run(request, class_pk)
    found = get_object_or_404(school_class.groups, pk=group_pk)
    with telling(request):
        grouping.remove_group(found)
        messages.success(request, _("%(group)s is removed.") % {"group": found.name})
    return redirect("tasks:groups", school_class.pk)
