"""The page of groups for next week: suggested, used, undone."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from assessment.class_access import class_run, class_taught, file_name, given
from assessment.models import GroupsUsed
from assessment.progress import groups as grouping
from assessment.progress.forms.progress import SizeForm
from assessment.progress.gaps import evidence_of_class
from portal.people.models import SchoolClass


@require_safe
def groups(request: HttpRequest, class_pk: int) -> HttpResponse:
    """Suggest groups for next week, of the size asked for, each with its reason."""
    school_class = class_taught(request, class_pk)
    form = SizeForm({"size": SizeForm.USUAL, **request.GET.dict()})
    known = evidence_of_class(school_class, request.user)
    context = {
        "school_class": school_class,
        "form": form,
        "size": form.wanted,
        "may_plan": SchoolClass.objects.run_by(request.user).filter(pk=class_pk).exists(),
        "suggested": grouping.suggest(known, form.wanted),
        "children": known.children,
        "not_known": grouping.not_known(known),
        "standing": list(school_class.groups.prefetch_related("children")),
        "used": GroupsUsed.objects.filter(school_class=school_class, undone_at=None).first(),
    }
    return render(request, "progress/groups.html", context)


@require_safe
def groups_taken(request: HttpRequest, class_pk: int, sheet: str) -> HttpResponse:
    """Return the suggested groups as a table to take away."""
    school_class = class_taught(request, class_pk)
    form = SizeForm({"size": SizeForm.USUAL, **request.GET.dict()})
    suggested = grouping.suggest(evidence_of_class(school_class, request.user), form.wanted)
    headings = [_("Group"), _("Child"), _("Why"), _("And for this child")]
    table = grouping.groups_table(file_name("groups", school_class), headings, suggested)
    return given(request, table, sheet, school_class)


@require_POST
def groups_used(request: HttpRequest, class_pk: int) -> HttpResponse:
    """Make the groups that were on screen, as they were named there, the groups of the class."""
    school_class = class_run(request, class_pk)
    try:
        wanted = grouping.taken_over(request.POST.dict())
        grouping.use(school_class, request.user, wanted)
    except grouping.NotTheClassError:
        messages.warning(
            request,
            _("Nothing was changed: give each group its own name, and open the page again."),
        )
    else:
        messages.success(request, _("These are the groups of the class now."))
    return redirect("assessment:next-groups", class_pk)


@require_POST
def groups_undone(request: HttpRequest, class_pk: int, used_pk: int) -> HttpResponse:
    """Put the groups of a class back to what they were."""
    school_class = class_run(request, class_pk)
    if grouping.undo(school_class, used_pk):
        messages.success(request, _("The groups are as they were before."))
    else:
        messages.warning(request, _("The groups were changed since, so nothing was undone."))
    return redirect("assessment:next-groups", class_pk)
