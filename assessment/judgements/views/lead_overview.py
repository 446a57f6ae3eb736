"""The lead's pages over all classes: judgements missing and differing, periods, second looks."""

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from assessment.class_access import given
from assessment.judgements.forms import PeriodForm, SampleForm
from assessment.judgements.lead_overview import overview
from assessment.judgements.second_looks import (
    NothingToSampleError,
    draw_sample,
    outcome,
    outcome_table,
)
from assessment.models import Period, Sample
from portal.people.models import School, SchoolClass, StaffPost, User


def school_led(request: HttpRequest) -> School:
    """Return the school that the reader leads, or answer 404."""
    for post in request.user.posts_held:
        if post.role == StaffPost.Role.LEAD:
            return post.school
    raise Http404


@require_http_methods(["GET", "HEAD", "POST"])
def school_judgements(request: HttpRequest) -> HttpResponse:
    """Show by class what is not decided yet and where staff differ; add a period."""
    school = school_led(request)
    years = school.years.order_by("-starts")
    form = PeriodForm(request.POST or None, years=years)
    if request.method == "POST" and form.is_valid():
        form.save()
        messages.success(request, _("The period has been added."))
        return redirect("assessment:school-judgements")
    periods = list(Period.objects.led_by(request.user).select_related("year"))
    wanted = request.GET.get("period", "")
    period = next((each for each in periods if str(each.pk) == wanted), next(iter(periods), None))
    classes = SchoolClass.objects.filter(year=period.year) if period else []
    context = {
        "periods": periods,
        "period": period,
        "classes": overview(list(classes), period) if period else [],
        "form": form,
    }
    status = 422 if form.is_bound else 200
    return render(request, "judgements/school_judgements.html", context, status=status)


@require_http_methods(["GET", "HEAD", "POST"])
def samples(request: HttpRequest) -> HttpResponse:
    """List the samples of a school, and draw another."""
    school = school_led(request)
    posts = StaffPost.objects.current().filter(school=school).exclude(role=StaffPost.Role.OFFICE)
    form = SampleForm(
        request.POST or None,
        classes=SchoolClass.objects.taught_by(request.user).select_related("year"),
        staff=User.objects.filter(pk__in=posts.values("user"), is_active=True).order_by("name"),
    )
    if request.method == "POST" and form.is_valid():
        asked = form.cleaned_data
        try:
            draw_sample(asked["school_class"], asked["second"], asked["count"], request.user)
        except NothingToSampleError:
            text = _("There is no looked-at work of that class that they have not tagged already.")
            messages.warning(request, text)
        else:
            messages.success(
                request, _("Chosen, by chance. They are on their page of second looks.")
            )
        return redirect("assessment:samples")
    known = Sample.objects.led_by(request.user).select_related("school_class", "second")
    context = {"form": form, "samples": known.prefetch_related("pieces")}
    status = 422 if form.is_bound else 200
    return render(request, "judgements/samples.html", context, status=status)


@require_safe
def sample(request: HttpRequest, sample_pk: int) -> HttpResponse:
    """Show how far the two lookers of a sample agree."""
    drawn = sample_led(request, sample_pk)
    found = outcome(drawn)
    hidden = drawn.second_id == request.user.pk and not found.finished
    context = {"sample": drawn, "outcome": found, "hidden": hidden}
    return render(request, "judgements/sample.html", context)


@require_safe
def sample_taken(request: HttpRequest, sample_pk: int, sheet: str) -> HttpResponse:
    """Return the figures of a sample as a table to take away."""
    drawn = sample_led(request, sample_pk)
    found = outcome(drawn)
    if drawn.second_id == request.user.pk and not found.finished:
        raise Http404
    headings = [
        *(_("Goal"), _("Pieces both tagged"), _("Same word")),
        *(_("Kappa"), _("Kappa, linear weights"), _("Kappa, quadratic weights")),
        *(_("Word for plain kappa"), _("Tagged by one of them alone")),
    ]
    table = outcome_table(f"second-look-{drawn.pk}", headings, found.goals)
    return given(request, table, sheet, drawn.school_class)


def sample_led(request: HttpRequest, sample_pk: int) -> Sample:
    """Return a sample of the school that the reader leads, or answer 404."""
    known = Sample.objects.led_by(request.user).select_related("school_class__year", "second")
    return get_object_or_404(known, pk=sample_pk)
