"""What may be done with the work of a class, as its homes agreed."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_safe

from portal.data_protection.consent.report import report
from portal.people.models import Child, Purpose, SchoolClass


@require_safe
def class_consents(request: HttpRequest, class_pk: int) -> HttpResponse:
    """List the children of a class with what their homes agreed to."""
    taught = SchoolClass.objects.taught_by(request.user).select_related("year__school")
    school_class = get_object_or_404(taught, pk=class_pk)
    children = Child.objects.filter(school_class=school_class)
    context = {
        "school_class": school_class,
        "lines": report(children),
        "purposes": Purpose.asked(),
    }
    return render(request, "consent/class_consents.html", context)
