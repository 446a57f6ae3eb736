"""The list of what came in, and one reply to many of it."""

from typing import Any

from django.contrib import messages
from django.core.paginator import Paginator
from django.db.models import Min
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_POST, require_safe

from assessment.goals.goal_sets import framework_of
from assessment.looks.batch_reply import BatchReply, reply_to_batch, undo_batch
from assessment.looks.forms.batch_reply import TogetherForm
from assessment.looks.forms.queue import QueueForm
from assessment.looks.looking import waiting_in
from assessment.looks.queue import offered, queue, recent_nonsubmissions
from assessment.looks.views.looking import look_just_saved
from assessment.models import LeadMark, SavedPhrase
from evidence.models import Submission
from portal.people.models import SchoolClass

PAGE_SIZE = 30
TOGETHER, SAID_TOGETHER = "looked together", "said together"


@require_safe
def queue_page(request: HttpRequest, class_pk: int) -> HttpResponse:
    """List what came in for a class."""
    school_class = class_of(request, class_pk)
    together = TogetherForm(goals=framework_of(school_class).goals.in_use())
    return show(request, school_class, together)


def show(
    request: HttpRequest, school_class: SchoolClass, together: TogetherForm, status: int = 200
) -> HttpResponse:
    """Draw the list, narrowed as the address asks."""
    taught = SchoolClass.objects.taught_by(request.user)
    everywhere = request.GET.get("of") == QueueForm.ALL
    classes = taught if everywhere else taught.filter(pk=school_class.pk)
    waits = request.GET.get("show", QueueForm.WAITING) == QueueForm.WAITING
    choices = offered(classes, request.user, taught.count() > 1, count=waits)
    form = QueueForm(request.GET.dict(), choices)
    rows = queue(classes, request.user, form.wanted)
    waiting = waiting_in(school_class, request.user).order_by()
    marks = LeadMark.objects.visible_to(request.user).open()
    context: dict[str, Any] = {
        "school_class": school_class,
        "form": form,
        "page": Paginator(rows, PAGE_SIZE).get_page(request.GET.get("page")),
        "saved": look_just_saved(request),
        "everywhere": everywhere,
        "today": school_class.school.today(),
        "waiting": waiting.count(),
        "oldest": waiting.aggregate(first=Min("sent_at"))["first"],
        "marked": marks.filter(submission__child__school_class=school_class).count(),
        "together": None if everywhere else together,
        "told": recent_nonsubmissions(school_class, request.user),
        "phrases": SavedPhrase.objects.of(request.user),
        "looked_together": "together" in request.GET and request.session.get(TOGETHER),
        "said_together": request.session.get(SAID_TOGETHER, ""),
    }
    return render(request, "looks/queue.html", context, status=status)


@require_POST
def reply_to_ticked(request: HttpRequest, class_pk: int) -> HttpResponse:
    """Save one reply for all that is ticked, and say what could not be saved."""
    school_class = class_of(request, class_pk)
    form = TogetherForm(request.POST, goals=framework_of(school_class).goals.in_use())
    if not form.is_valid():
        return show(request, school_class, form, status=422)
    rows = own_rows(request, school_class)
    outcome = reply_to_batch(rows, request.user, form.saying, form.cleaned_data["ticked"])
    request.session[TOGETHER] = [[each.token, version] for each, version in outcome.done]
    request.session[SAID_TOGETHER] = form.saying.reply
    done = len(outcome.done)
    if done:
        said = ngettext("Saved for %(count)d child.", "Saved for %(count)d children.", done)
        messages.success(request, said % {"count": done})
    tell(request, outcome, _("Not saved for %(who)s: somebody looked at it in the meantime."))
    return redirect(list_of(school_class) + ("?together=1" if done else ""))


@require_POST
def undo_ticked(request: HttpRequest, class_pk: int) -> HttpResponse:
    """Undo the last reply to many, but for those that somebody changed since."""
    school_class = class_of(request, class_pk)
    versions = dict(request.session.pop(TOGETHER, []))
    outcome = undo_batch(own_rows(request, school_class), versions)
    done = len(outcome.done)
    said = ngettext("Undone for %(count)d child.", "Undone for %(count)d children.", done)
    messages.success(request, said % {"count": done})
    tell(request, outcome, _("Not undone for %(who)s: somebody changed it since."))
    return redirect(list_of(school_class))


def tell(request: HttpRequest, outcome: BatchReply, words: str) -> None:
    """Say on which pieces an action was not done; *words* have %(who)s for the children."""
    if outcome.meanwhile:
        who = ", ".join(str(each.child) for each in outcome.meanwhile)
        messages.warning(request, words % {"who": who})
    if outcome.gone:
        said = ngettext(
            "%(count)d piece was taken back by its family.",
            "%(count)d pieces were taken back by their families.",
            outcome.gone,
        )
        messages.warning(request, said % {"count": outcome.gone})


def own_rows(request: HttpRequest, school_class: SchoolClass) -> Any:
    """Return the standing submissions of a class that the reader may look at."""
    rows = Submission.objects.taught_by(request.user).active()
    return rows.filter(child__school_class=school_class)


def list_of(school_class: SchoolClass) -> str:
    """Return the address of the list of a class."""
    return reverse("assessment:queue", args=[school_class.pk])


def class_of(request: HttpRequest, pk: int) -> SchoolClass:
    """Return a class that the reader works with, or answer 404."""
    return get_object_or_404(SchoolClass.objects.taught_by(request.user), pk=pk)
