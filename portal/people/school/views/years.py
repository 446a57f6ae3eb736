"""School years: making the next one, and moving children up."""

from django.contrib import messages
from django.db.models import Count
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import ngettext
from django.views.decorators.http import require_http_methods

from portal.people.audit.log import record
from portal.people.models import Event, School, SchoolClass, SchoolYear, StaffPost
from portal.people.school.forms import MoveUpForm, YearForm
from portal.people.school.moving_up import make_year, move_up

KEEPERS = (StaffPost.Role.LEAD, StaffPost.Role.OFFICE)


def school_kept(request: HttpRequest) -> School:
    """Return the school whose roster the reader keeps. Raises Http404 for anybody else."""
    kept = (post.school for post in request.user.posts_held if post.role in KEEPERS)
    if (school := next(kept, None)) is None:
        raise Http404
    return school


@require_http_methods(["GET", "HEAD", "POST"])
def years(request: HttpRequest) -> HttpResponse:
    """List the school's years with their classes, and make another."""
    school = school_kept(request)
    known = list(school.years.prefetch_related("classes").order_by("-starts"))
    names = "\n".join(each.name for each in known[0].classes.all()) if known else ""
    form = YearForm(
        request.POST or None, instance=SchoolYear(school=school), initial={"class_names": names}
    )
    if form.is_valid():
        year = make_year(school, **form.cleaned_data)
        record(request, Event.What.YEAR_MADE, year, school=school)
        return redirect("people:move-up", year.pk) if known else redirect("people:years")
    return render(request, "school/years.html", {"years": known, "form": form})


@require_http_methods(["GET", "HEAD", "POST"])
def moving_up(request: HttpRequest, year_pk: int) -> HttpResponse:
    """Move the children of the year before into the classes of a year."""
    school = school_kept(request)
    year = get_object_or_404(school.years, pk=year_pk)
    before = school.years.filter(starts__lt=year.starts).last()
    sized = SchoolClass.objects.annotate(size=Count("children")).filter(size__gt=0)
    old = list(sized.filter(year=before)) if before else []
    form = MoveUpForm(old, list(year.classes.all()), request.POST or None)
    if form.is_valid() and (moves := form.moves()):
        moved = move_up(moves)
        record(request, Event.What.MOVED_UP, year, school=school)
        words = ngettext("%(count)s child moved.", "%(count)s children moved.", moved)
        messages.success(request, words % {"count": moved})
        return redirect("people:classes")
    context = {"form": form, "year": year, "before": before, "old": old}
    return render(request, "school/move_up.html", context)
