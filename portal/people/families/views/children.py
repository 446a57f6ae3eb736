"""One child on the roster, by hand: added, spelled otherwise, moved, or gone."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from portal.people.audit.log import record
from portal.people.families.forms import ChildForm
from portal.people.models import Child, Event, SchoolClass
from portal.people.school.moving_up import change_child


@require_http_methods(["GET", "HEAD", "POST"])
def add(request: HttpRequest, class_pk: int) -> HttpResponse:
    """Add a child to a class."""
    kept = SchoolClass.objects.kept_by(request.user).select_related("year__school")
    school_class = get_object_or_404(kept, pk=class_pk)
    new = Child(school=school_class.school, school_class=school_class)
    form = ChildForm(request.POST or None, instance=new)
    if form.is_valid():
        child = form.save()
        record(request, Event.What.CHILD_CHANGED, child)
        messages.success(request, _("Added. Invite the adults at home here."))
        return redirect("people:homes", child.pk)
    return render(request, "families/child.html", {"form": form, "school_class": school_class})


@require_http_methods(["GET", "HEAD", "POST"])
def change(request: HttpRequest, child_pk: int) -> HttpResponse:
    """Change a child's name or class."""
    kept = Child.objects.kept_by(request.user).select_related("school", "school_class")
    child = get_object_or_404(kept, pk=child_pk)
    form = ChildForm(request.POST or None, instance=child)
    if form.is_valid():
        change_child(form.save(commit=False))
        record(request, Event.What.CHILD_CHANGED, child)
        messages.success(request, _("Changed, from now on."))
        return redirect("people:homes", child_pk)
    return render(request, "families/child.html", {"form": form, "child": child})
