"""Where a family sends work from, for a child and a day, or more for what it sent."""

import datetime as dt
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render, resolve_url
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.csrf import csrf_exempt, csrf_protect
from django.views.decorators.http import require_http_methods
from django_htmx.http import HttpResponseClientRedirect

from evidence import allowance, arrivals
from evidence.arrivals import (
    Arrival,
    NothingToSaveError,
    NotSavedError,
    TooLateError,
    Words,
)
from evidence.forms import NOTHING, SendForm, too_large, words_of
from evidence.models import Submission
from evidence.questions import parts, prompts_of, tasks_of
from evidence.senders import Sender
from evidence.uploads import NOT_SAVED, ArrivedFile, straight_into_the_store
from portal.people.models import Child, Home
from tasks.models import DayPlan, Task

Deed = Callable[[str, Words, Sequence[ArrivedFile]], Arrival]


@dataclass(frozen=True)
class Page:
    """What the sending page is about; `submission` is the one it adds to, where there is one."""

    child: Child
    plan: DayPlan
    tasks: list[Task]
    submission: Submission | None = None

    def form(self, *given: Any, **more: Any) -> SendForm:
        """Give the form for the questions of this page."""
        return SendForm(prompts_of(self.tasks), *given, **more)


# The token of the form is checked in `receive`: reading it means reading the files, and nobody's
# files are read before it is known that this person may send them here.
@csrf_exempt
@require_http_methods(["GET", "HEAD", "POST"])
def send(request: HttpRequest, child_pk: int, date: dt.date) -> HttpResponse:
    """Send a new piece of work for a child and a day."""
    child = get_object_or_404(Child.objects.at_home_with(request.user), pk=child_pk)
    plan = get_object_or_404(DayPlan.objects.out_for(child), date=date)
    page = Page(child, plan, tasks_of(child, plan))
    if request.method != "POST":
        return show(request, page, page.form())
    home = Home.objects.get(
        guardianships__in=child.guardianships.current().filter(adult=request.user)
    )
    return guarded(request, page, partial(send_new, request.user, page, home))


@csrf_exempt
@require_http_methods(["GET", "HEAD", "POST"])
def send_more(request: HttpRequest, token: str) -> HttpResponse:
    """Add pieces to a submission, and put its words right, until it has been looked at."""
    own = Submission.objects.from_home_of(request.user).standing()
    submission = get_object_or_404(own.select_related("child", "day_plan"), token=token)
    if not submission.can_be_changed:
        return too_late(request, submission.child, submission.day_plan)
    child, plan = submission.child, submission.day_plan
    page = Page(child, plan, tasks_of(child, plan), submission)
    if request.method != "POST":
        return show(request, page, page.form(initial=words_of(submission)))
    return guarded(request, page, partial(send_more_to, submission))


def send_new(
    user: Any, page: Page, home: Home, form_key: str, words: Words, files: Sequence[ArrivedFile]
) -> Arrival:
    """Take in a form of the sending page."""
    return arrivals.send(Sender(user, page.child, home, page.plan, form_key), words, files)


def send_more_to(
    submission: Submission, form_key: str, words: Words, files: Sequence[ArrivedFile]
) -> Arrival:
    """Take in a form that adds to *submission*."""
    return arrivals.add(submission, words, files)


def guarded(request: HttpRequest, page: Page, deed: Deed) -> HttpResponse:
    """Read the form into the store, unless it says that it is larger than anything we take."""
    if int(request.META.get("CONTENT_LENGTH") or 0) > allowance.MAX_FORM_BYTES:
        messages.error(request, too_large())
        return show(request, page, page.form(), status=413)
    with straight_into_the_store(request):
        return receive(request, page, deed)


@csrf_protect
def receive(request: HttpRequest, page: Page, deed: Deed) -> HttpResponse:
    """Save what is sound in the form, and show the submission or what must be put right."""
    form = page.form(request.POST, request.FILES.getlist("pieces"))
    form.is_valid()
    if not form.came_through:
        return show(request, page, form, status=422)
    try:
        arrival = deed(form.cleaned_data["form_key"], form.words, form.arrived)
    except NotSavedError:
        form.add_error(None, NOT_SAVED)
        return show(request, page, form, status=503)
    except NothingToSaveError:
        form.add_error(None, form.refusals or [NOTHING])
        return show(request, page, form, status=503 if form.has_failed else 422)
    except TooLateError:
        return too_late(request, page.child, page.plan)
    tell(request, arrival.kept, form.refusals)
    if form.errors:
        return show(request, page, form, status=422)
    address = resolve_url("evidence:submission", arrival.submission.token)
    # A script that followed a redirect by itself would use up the messages before they are seen.
    return HttpResponseClientRedirect(address) if request.htmx else redirect(address)


def tell(request: HttpRequest, kept: int, refusals: list[str]) -> None:
    """Say what is saved, and what was refused and why."""
    said = _("Saved. Thank you.")
    if kept:
        said = ngettext(
            "Saved: %(count)d piece. Thank you.", "Saved: %(count)d pieces. Thank you.", kept
        ) % {"count": kept}
    messages.success(request, said)
    for line in refusals:
        messages.warning(request, line)


def show(request: HttpRequest, page: Page, form: SendForm, status: int = 200) -> HttpResponse:
    """Show the sending page with *form*."""
    earlier = Submission.objects.from_home_of(request.user).open_to_change()
    asked = list(parts(page.tasks, form))
    context = {
        "page": page,
        "form": form,
        "parts": asked,
        "answered": any(each.field.value() for part in asked for each in part.questions),
        "earlier": earlier.filter(child=page.child, day_plan=page.plan).first(),
        "headings": (_("What"), _("Kinds of file"), _("At most")),
        "allowed": allowance.table(),
        "most_pieces": allowance.MAX_PIECES,
    }
    return render(request, "evidence/send.html", context, status=status)


def too_late(request: HttpRequest, child: Child, plan: DayPlan) -> HttpResponse:
    """Say that what was looked at stays as it is, and what can be done in its place."""
    context = {"child": child, "plan": plan}
    return render(request, "evidence/too_late.html", context, status=409)
