"""The list of what came in."""

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_safe

from assessment.forms.queue import QueueForm
from assessment.queue import queue
from assessment.views.looking import look_just_saved
from portal.people.models import Child, SchoolClass

PAGE_SIZE = 30


@require_safe
def queue_page(request: HttpRequest, class_pk: int) -> HttpResponse:
    """List what came in for a class."""
    school_class = get_object_or_404(SchoolClass.objects.taught_by(request.user), pk=class_pk)
    children = Child.objects.taught_by(request.user).filter(school_class=school_class)
    form = QueueForm(request.GET.dict(), children)
    rows = queue(school_class, request.user, form.wanted)
    context = {
        "school_class": school_class,
        "form": form,
        "page": Paginator(rows, PAGE_SIZE).get_page(request.GET.get("page")),
        "saved": look_just_saved(request),
    }
    return render(request, "assessment/queue.html", context)
