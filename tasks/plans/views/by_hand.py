"""The pages on which a teacher types the questions of a part herself."""

import datetime as dt
from collections.abc import Mapping

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.safestring import SafeString
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from tasks.models import OwnPrompt, OwnPromptQuerySet, Task, TaskPrompt
from tasks.numberwork.by_hand.own import plain
from tasks.numberwork.by_hand.pictures import DRAWABLE, picture_of
from tasks.numberwork.by_hand.reading import can_be_typed
from tasks.numberwork.cautions import Caution, cautions_for
from tasks.numberwork.pictures import Picture
from tasks.plans import by_hand
from tasks.plans.forms.by_hand import NumbersForm, OwnForm
from tasks.plans.planning import PlanningError, Seen
from tasks.plans.prompt_selection import asked_beside
from tasks.plans.views.parts import ask_again
from tasks.plans.views.plans import class_run, day_address, part_action, part_page, seen_by


@part_page
def type_numbers(request: HttpRequest, task: Task) -> HttpResponse:
    """Ask for the numbers of a part, and ask exactly these. A kind without numbers is a 404."""
    if not can_be_typed(task.kind):
        raise Http404
    asked = asked_beside(task) - {row.key for row in task.prompts.all()}
    form = NumbersForm(request.POST or None, task=task, asked=asked)
    if request.method == "POST" and form.is_valid():
        within, seen = form.cleaned_data["within"], seen_by(request)
        try:
            if form.kind.one_number:
                by_hand.ask_about(task, within, form.cleaned_data["number"], seen)
            else:
                by_hand.ask_numbers(task, within, form.typed, seen)
        except PlanningError as refusal:
            ask_again(form, refusal, task)
        else:
            return redirect(day_address(task.day_plan, task))
    return render(request, "plans/part_numbers.html", {"task": task, "form": form})


@part_page
def write_own(request: HttpRequest, task: Task) -> HttpResponse:
    """Ask for a question of the teacher's own, and put it on the part; "draw" only draws it."""
    school_class = task.day_plan.school_class
    kept = OwnPrompt.objects.visible_to(request.user).at(school_class.school)
    form = OwnForm(
        request.POST or None, rows=task.prompts.all(), initial=_to_use_again(request, kept)
    )
    typed = request.POST or form.initial
    if request.method == "POST" and "draw" not in request.POST and form.is_valid():
        prompt, place = form.cleaned_data["prompt"], form.cleaned_data["place"]
        try:
            by_hand.add_own(task, prompt, place, seen_by(request))
        except PlanningError as refusal:
            ask_again(form, refusal, task)
        else:
            if form.cleaned_data["keep"] and not OwnPrompt.keep(
                school_class.school, request.user, prompt, form.typed
            ):
                messages.warning(request, _("It is not kept: your list is full."))
            return redirect(day_address(task.day_plan, task))
    if "draw" in request.POST:
        form = OwnForm(rows=task.prompts.all(), initial=request.POST.dict())
    context = {"task": task, "form": form, "kept": kept, **drawn(typed)}
    return render(request, "plans/part_own.html", context)


def _to_use_again(request: HttpRequest, kept: OwnPromptQuerySet) -> dict[str, str]:
    """Return what was typed for the kept question that the address names; nothing for none."""
    chosen = request.GET.get("kept", "")
    if not chosen.isdecimal():
        return {}
    return dict(get_object_or_404(kept, pk=int(chosen)).data)


def drawn(typed: Mapping[str, str]) -> dict[str, object]:
    """Return what is seen at once of a question: its picture as drawn, or why not; its cautions."""
    name, numbers = typed.get("picture", ""), typed.get("numbers", "")
    picture: Picture | None = None
    wrong = ""
    if name in DRAWABLE:
        try:
            picture = picture_of(name, numbers) if numbers.strip() else None
        except ValueError as why:
            wrong = str(why)
    cautions: list[Caution] = cautions_for(plain(typed.get("sentence", "")))
    alt = picture.alt if picture else ""
    # It is drawn by our own code, which escapes the words in it.
    svg = SafeString(picture.svg() if picture else "")
    return {"picture": svg, "alt": alt, "wrong": wrong, "cautions": cautions}


@require_POST
def draw_own(request: HttpRequest, class_pk: int) -> HttpResponse:
    """Draw the picture of a question that is being typed, as a piece of its page."""
    class_run(request, class_pk)
    return render(request, "plans/_own_drawn.html", drawn(request.POST))


@part_action
def take_out_own(request: HttpRequest, task: Task, seen: Seen, position: int) -> None:
    """Take a question of the teacher's own off a part."""
    try:
        by_hand.take_out_own(task, position, seen)
    except TaskPrompt.DoesNotExist:
        raise Http404 from None


@require_POST
def remove_own(
    request: HttpRequest, class_pk: int, date: dt.date, task_pk: int, own_pk: int
) -> HttpResponse:
    """Remove a question from the teacher's list; the days it was set for keep it."""
    school = class_run(request, class_pk).school
    kept = OwnPrompt.objects.visible_to(request.user).at(school)
    get_object_or_404(kept, pk=own_pk).delete()
    messages.success(request, _("It is off your list. Days that have it keep it."))
    return redirect("tasks:part-own", class_pk, date, task_pk)
