"""The week as PDF: a class's for its staff, a sheet a family, a school's for its lead."""

from django.db.models import Count, Q
from django.http import Http404, HttpRequest, HttpResponse
from django.views.decorators.http import require_safe

from assessment.class_access import class_run, class_taught
from assessment.insight.weeks import Week
from assessment.judgements.views.lead_overview import school_led
from assessment.weekly.class_week import class_week
from assessment.weekly.family_week import family_weeks
from assessment.weekly.pdf_sheets import class_sheets, family_sheets, school_sheets
from assessment.weekly.school_week import school_week
from evidence.models import Submission
from evidence.submissions.nonsubmissions import Nonsubmission
from portal.people.audit.log import record
from portal.people.models import Child, Event


@require_safe
def class_week_pdf(request: HttpRequest, class_pk: int, week: Week) -> HttpResponse:
    """Return the week of a class to print, for its staff."""
    school_class = class_taught(request, class_pk)
    children = Child.objects.taught_by(request.user).filter(school_class=school_class)
    whole = class_week(school_class, children, week)
    record(request, Event.What.EXPORTED, school_class)
    return pdf(class_sheets(whole, week.sunday), f"week-{week}.pdf")


@require_safe
def family_sheets_pdf(request: HttpRequest, class_pk: int, week: Week) -> HttpResponse:
    """Return a sheet for each family of a class, to hand out on paper.

    A child with two homes gets no replies on it: one home's work is not the other's business.
    """
    school_class = class_run(request, class_pk)
    children = list(school_class.children.select_related("school"))
    if not children:
        raise Http404
    here = Count("guardianships__home", distinct=True, filter=Q(guardianships__ended_at=None))
    between_two = school_class.children.annotate(homes_now=here).filter(homes_now__gt=1)
    own = Submission.objects.taught_by(request.user).exclude(
        child__in=list(between_two.values_list("pk", flat=True))
    )
    said = Nonsubmission.objects.taught_by(request.user).exclude(child__in=between_two)
    record(request, Event.What.EXPORTED, school_class)
    sheets = family_sheets(family_weeks(children, own, week, said), week, week.sunday)
    return pdf(sheets, f"week-{week}-families.pdf")


@require_safe
def child_week_pdf(request: HttpRequest, child_pk: int, week: Week) -> HttpResponse:
    """Return a family the week of one child to print."""
    own = Child.objects.at_home_with(request.user).filter(pk=child_pk).select_related("school")
    children = list(own)
    if not children:
        raise Http404
    sent = Submission.objects.from_home_of(request.user)
    said = Nonsubmission.objects.from_home_of(request.user)
    sheets = family_sheets(family_weeks(children, sent, week, said), week, week.sunday)
    return pdf(sheets, f"week-{week}.pdf")


@require_safe
def school_week_pdf(request: HttpRequest, week: Week) -> HttpResponse:
    """Return the week of a school to print, for its lead."""
    whole = school_week(school_led(request), week)
    return pdf(school_sheets(whole, week.sunday), f"week-{week}-school.pdf")


def pdf(content: bytes, name: str) -> HttpResponse:
    """Return a PDF to save or print; its name says nothing of any child."""
    headers = {
        "Content-Disposition": f'attachment; filename="{name}"',
        "Cache-Control": "no-store",
    }
    return HttpResponse(content, content_type="application/pdf", headers=headers)
