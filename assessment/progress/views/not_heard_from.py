"""Children not heard from, and the calls to their families."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from assessment.models import ContactNote
from assessment.progress.forms.not_heard_from import CallForm, DaysForm
from assessment.progress.not_heard_from import not_heard_from_in
from portal.people.models import Child, SchoolClass


@require_safe
def silence(request: HttpRequest, class_pk: int) -> HttpResponse:
    """List the children of a class from whom nothing came for so many school days."""
    taught = SchoolClass.objects.taught_by(request.user).select_related("year__school")
    return show(request, get_object_or_404(taught, pk=class_pk))


def show(
    request: HttpRequest,
    school_class: SchoolClass,
    wrong: CallForm | None = None,
    about: Child | None = None,
) -> HttpResponse:
    """Draw the list; *wrong*: a note that cannot be kept so, *about* a child."""
    form = DaysForm(request.GET.dict())
    context = {
        "school_class": school_class,
        "form": form,
        "found": not_heard_from_in(school_class, request.user, form.chosen),
        "wrong": wrong,
        "about": about,
        "may_invite": SchoolClass.objects.kept_by(request.user).filter(pk=school_class.pk).exists(),
    }
    return render(request, "progress/not_heard_from.html", context, status=422 if wrong else 200)


@require_POST
def note_call(request: HttpRequest, child_pk: int) -> HttpResponse:
    """Write down what came of a call."""
    taught = Child.objects.taught_by(request.user).select_related("school_class__year__school")
    child = get_object_or_404(taught, pk=child_pk)
    form = CallForm(request.POST, auto_id=f"%s-{child.pk}")
    if not form.is_valid():
        return show(request, child.school_class, form, child)
    words = form.cleaned_data["words"]
    ContactNote.objects.create(child=child, called_by=request.user, words=words)
    return back(request, child)


@require_POST
def remove_call(request: HttpRequest, note_pk: int) -> HttpResponse:
    """Delete a note for good: a child's file holds no more than is needed."""
    notes = ContactNote.objects.visible_to(request.user).select_related("child")
    note = get_object_or_404(notes, pk=note_pk)
    note.delete()
    return back(request, note.child)


def back(request: HttpRequest, child: Child) -> HttpResponse:
    """Go back to the list where it was, at *child*."""
    page = reverse("assessment:not-heard-from", args=[child.school_class_id])
    return redirect(f"{page}?days={DaysForm(request.GET.dict()).chosen}#child-{child.pk}")
