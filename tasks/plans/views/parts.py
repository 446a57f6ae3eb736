"""What can be done to one part of a day: add, new questions, change, reword, lock, remove."""

import datetime as dt

from django.forms import Form
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from tasks.models import Task, TaskPrompt
from tasks.plans import planning
from tasks.plans.forms.planning import WordingForm
from tasks.plans.forms.questions import PartForm, QuestionsForm
from tasks.plans.planned import first_missing_part
from tasks.plans.planning import PlanningError, Seen
from tasks.plans.prompt_selection import Choice
from tasks.plans.views.plans import day_address, part_action, part_page, plan_run, seen_by


@require_http_methods(["GET", "HEAD", "POST"])
def add_part(request: HttpRequest, class_pk: int, date: dt.date) -> HttpResponse:
    """Ask what to add to a day, and add it."""
    plan = plan_run(request, class_pk, date)
    form = PartForm(
        request.POST or None,
        school_class=plan.school_class,
        initial={"part": first_missing_part(plan), **asked_for(request)},
    )
    if request.method == "POST" and form.is_valid():
        part, group = form.cleaned_data["part"], form.cleaned_data["group"]
        try:
            task = planning.add_part(plan, part, form.choice(), seen_by(request), group)
        except PlanningError as refusal:
            form.add_error(None, str(refusal))
            plan = plan_run(request, class_pk, date)
        else:
            return redirect(day_address(plan, task))
    return render(request, "plans/part_add.html", {"plan": plan, "form": form})


def asked_for(request: HttpRequest) -> dict[str, str]:
    """Return what the address says is chosen on the page now, to show its questions."""
    names = ("kind", "within", "depth")
    return {name: request.GET[name] for name in names if name in request.GET}


@part_page
def change_part(request: HttpRequest, task: Task) -> HttpResponse:
    """Ask for another kind, range, number or depth of a part, and draw it so."""
    form = QuestionsForm(request.POST or None, now=Choice.of(task), initial=asked_for(request))
    if request.method == "POST" and form.is_valid():
        try:
            planning.change_part(task, form.choice(), seen_by(request))
        except PlanningError as refusal:
            ask_again(form, refusal, task)
        else:
            return redirect(day_address(task.day_plan, task))
    return render(request, "plans/part_change.html", {"task": task, "form": form})


@part_page
def reword_part(request: HttpRequest, task: Task) -> HttpResponse:
    """Ask for other words on a part."""
    form = WordingForm(request.POST or None, instance=task)
    if request.method == "POST" and form.is_valid():
        try:
            planning.reword_part(task, form.wording(), seen_by(request))
        except PlanningError as refusal:
            ask_again(form, refusal, task)
        else:
            return redirect(day_address(task.day_plan, task))
    return render(request, "plans/part_reword.html", {"task": task, "form": form})


def ask_again(form: Form, refusal: PlanningError, task: Task) -> None:
    """Keep what was typed beside the reason it was not saved, on the plan as it is now."""
    form.add_error(None, str(refusal))
    task.day_plan.refresh_from_db(fields=["version"])


@part_action
def redraw_part(request: HttpRequest, task: Task, seen: Seen) -> None:
    """Draw new prompts for a whole part."""
    planning.redraw_part(task, seen)


@part_action
def redraw_prompt(request: HttpRequest, task: Task, seen: Seen, position: int) -> None:
    """Draw a new prompt in the place of one."""
    try:
        planning.redraw_prompt(task, position, seen)
    except TaskPrompt.DoesNotExist:
        raise Http404 from None


@part_action
def lock_part(request: HttpRequest, task: Task, seen: Seen) -> None:
    """Lock a part, or with ?open=1 unlock it."""
    planning.lock_part(task, "open" not in request.GET, seen)


@part_action
def for_groups(request: HttpRequest, task: Task, seen: Seen) -> None:
    """Give the groups that are ticked a version of a part, all at once."""
    ticked = [pk for pk in request.POST.getlist("groups") if pk.isdecimal()]
    groups = list(task.day_plan.school_class.groups.filter(pk__in=ticked))
    planning.give_groups(task, groups, seen)


@part_action
def remove_part(request: HttpRequest, task: Task, seen: Seen) -> None:
    """Remove a part."""
    planning.remove_part(task, seen)
