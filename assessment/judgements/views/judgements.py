"""The pages of judging: a class's decisions, a child's with the evidence, and tables of them."""

from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from assessment.class_access import class_run, file_name, given
from assessment.goals.goal_sets import framework_of
from assessment.judgements import judgements as judging
from assessment.judgements.forms import JudgementForm, VersionForm
from assessment.judgements.returns import plain_table, return_columns, return_table
from assessment.judgements.units import level_choices, units_of
from assessment.models import Period
from assessment.progress.wording import found_words
from portal.people.models import Child, SchoolClass


@require_safe
def judgements(request: HttpRequest, class_pk: int) -> HttpResponse:
    """Show the decisions of a period on the children of a class."""
    school_class = class_run(request, class_pk)
    period, periods = period_asked(request, school_class)
    framework = framework_of(school_class)
    children = list(school_class.children.all())
    units = units_of(framework)
    standing = judging.standing_in(children, period, framework)
    context = {
        "school_class": school_class,
        "period": period,
        "periods": periods,
        "framework": framework,
        "can_judge": bool(level_choices(framework)),
        "units": units,
        "rows": [
            (child, [(unit, standing.get((child.pk, unit.key))) for unit in units])
            for child in children
        ],
        "returned": return_columns(framework),
    }
    return render(request, "judgements/judgements.html", context)


@require_safe
def judgements_taken(request: HttpRequest, class_pk: int, sheet: str) -> HttpResponse:
    """Return the decisions in words as a table to take away."""
    school_class = class_run(request, class_pk)
    period, _periods = period_asked(request, school_class)
    framework, children = framework_of(school_class), list(school_class.children.all())
    table = plain_table(
        file_name("judgements", school_class),
        [_("Child")],
        children,
        units_of(framework),
        judging.standing_in(children, period, framework),
    )
    return given(request, table, sheet, school_class)


@require_safe
def return_taken(request: HttpRequest, class_pk: int, sheet: str) -> HttpResponse:
    """Return the decisions as codes under the columns of the published return."""
    school_class = class_run(request, class_pk)
    period, _periods = period_asked(request, school_class)
    framework, children = framework_of(school_class), list(school_class.children.all())
    if not return_columns(framework):
        raise Http404
    standing = judging.standing_in(children, period, framework)
    name = file_name("return", school_class)
    table = return_table(name, school_class, framework, children, standing)
    return given(request, table, sheet, school_class)


@require_http_methods(["GET", "HEAD", "POST"])
def child_judgements(request: HttpRequest, child_pk: int, period_pk: int) -> HttpResponse:
    """Show each unit with the evidence beside it, and store what is decided."""
    child, period = child_run(request, child_pk, period_pk)
    framework = framework_of(child.school_class)
    levels = level_choices(framework)
    if request.method != "POST":
        return child_page(request, child, period)
    form = JudgementForm(request.POST, levels=levels)
    unit = request.POST.get("unit", "")
    if unit not in {each.key for each in units_of(framework)} or not form.is_valid():
        return child_page(request, child, period, wrong=form, status=422)
    about = judging.About(child, period, framework, unit)
    said = (form.cleaned_data["level"], form.cleaned_data["note"])
    if not said[0] and not form.cleaned_data["version"]:
        messages.warning(request, _("There was nothing to save: choose a decision first."))
    else:
        with_answer(request, lambda: judging.judge(about, request.user, *said, version_of(form)))
    return redirect("assessment:child-judgements", child.pk, period.pk)


@require_POST
def judgement_locked(request: HttpRequest, child_pk: int, period_pk: int) -> HttpResponse:
    """Lock a decision."""
    return changed(request, child_pk, period_pk, judging.lock)


@require_POST
def judgement_unlocked(request: HttpRequest, child_pk: int, period_pk: int) -> HttpResponse:
    """Unlock a decision: a lead may."""
    child, _period = child_run(request, child_pk, period_pk)
    if not leads(request, child):
        raise Http404
    return changed(request, child_pk, period_pk, judging.unlock)


@require_POST
def judgement_undone(request: HttpRequest, child_pk: int, period_pk: int) -> HttpResponse:
    """Undo the last change of a decision."""
    return changed(request, child_pk, period_pk, judging.undo)


def changed(request: HttpRequest, child_pk: int, period_pk: int, action: Any) -> HttpResponse:
    """Do *action* on the decision and version a button was about, and show the child again."""
    child, period = child_run(request, child_pk, period_pk)
    form = VersionForm(request.POST)
    if form.is_valid():
        framework = framework_of(child.school_class)
        about = judging.About(child, period, framework, form.cleaned_data["unit"])
        with_answer(request, lambda: action(about, request.user, version_of(form)))
    return redirect("assessment:child-judgements", child.pk, period.pk)


def with_answer(request: HttpRequest, action: Any) -> None:
    """Do *action*, and say on the next page what came of it."""
    try:
        action()
    except judging.JudgedMeanwhileError:
        text = _("Somebody has decided since you opened the page. Nothing was saved: look again.")
        messages.warning(request, text)
    except judging.LockedError:
        messages.warning(request, _("This decision is locked. A lead can unlock it."))
    else:
        messages.success(request, _("Saved."))


def version_of(form: Any) -> int:
    """Return the version that was on screen."""
    return form.cleaned_data["version"]


def child_page(
    request: HttpRequest, child: Child, period: Period, wrong: Any = None, status: int = 200
) -> HttpResponse:
    """Draw the page of a child's decisions; *wrong*: a form with something to mend."""
    framework = framework_of(child.school_class)
    levels = level_choices(framework)
    context = {
        "child": child,
        "period": period,
        "framework": framework,
        "leads": leads(request, child),
        "judged": [
            (one, form_for(one, levels, wrong), statements_of(one))
            for one in judging.judged_of_child(child, period, framework)
        ],
    }
    return render(request, "judgements/child_judgements.html", context, status=status)


def form_for(one: judging.Judged, levels: Any, wrong: Any) -> JudgementForm:
    """Return the form of one unit, with what stands in it; or the one with something to mend."""
    if wrong is not None and wrong.data.get("unit") == one.unit.key:
        return wrong
    standing = one.standing
    initial = {"unit": one.unit.key, "version": one.version}
    said = {"level": standing.level, "note": standing.note} if standing else {}
    name = f"unit-{one.unit.goals[0].pk}-%s"
    return JudgementForm(initial={**initial, **said}, levels=levels, auto_id=name)


def statements_of(one: judging.Judged) -> list[tuple[Any, str]]:
    """Return each statement with what was gathered on it, in words."""
    return [
        (goal, found_words(weight))
        for goal, (_code, weight) in zip(one.unit.goals, one.beside.statements, strict=True)
    ]


def child_run(request: HttpRequest, child_pk: int, period_pk: int) -> tuple[Child, Period]:
    """Return a child the reader judges, and a period of its year, or answer 404."""
    classes = SchoolClass.objects.run_by(request.user)
    children = Child.objects.filter(school_class__in=classes)
    known = children.select_related("school_class__year__school")
    child = get_object_or_404(known, pk=child_pk)
    return child, get_object_or_404(child.school_class.year.periods.all(), pk=period_pk)


def period_asked(request: HttpRequest, school_class: SchoolClass) -> tuple[Period, list[Period]]:
    """Return the period that ?period= asks for, else the last, and all there are."""
    periods = judging.periods_of(school_class)
    wanted = request.GET.get("period", "")
    return next((each for each in periods if str(each.pk) == wanted), periods[0]), periods


def leads(request: HttpRequest, child: Child) -> bool:
    """Whether the reader leads the school of *child*."""
    return any(
        post.role == post.Role.LEAD and post.school_id == child.school_id
        for post in request.user.posts_held
    )
