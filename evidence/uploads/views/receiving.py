"""The page to send from, and what happens to the form that comes back from it."""

from collections.abc import Callable
from contextlib import ExitStack
from dataclasses import dataclass, field
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render, resolve_url
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.csrf import csrf_protect
from django_htmx.http import HttpResponseClientRedirect

from evidence.media import LIMITS, Kind, RefusalReason, refusal_words
from evidence.models import Submission
from evidence.submissions import other_children
from evidence.submissions.permissions import Sender
from evidence.uploads import limits
from evidence.uploads.arrivals import Arrival, NothingToSaveError, NotSavedError, TooLateError
from evidence.uploads.forms import NOTHING, SendForm, too_large
from evidence.uploads.questions import parts, prompts_of
from evidence.uploads.tus.protocol import RequestError
from evidence.uploads.tus.upload_slots import desk
from evidence.uploads.upload_handler import NOT_SAVED, straight_into_the_store, too_big
from evidence.uploads.walk import make_walk
from portal.data_protection.retention.durations import in_words
from portal.data_protection.retention.purge import rules_of
from portal.people.models import Child
from tasks.models import DayPlan, Task

Action = Callable[[SendForm], Arrival]
DAYS_BEFORE = 10
MINUTES_TOLD = (1, 2, 3, 5, 10, 15, 20, 30)
BLANKS = (("photo", "camera"), ("clip", "clip"), ("voice", "voice"), ("page", "page"))


@dataclass(frozen=True)
class Page:
    """What the sending page is about; `submission` is the one it adds to, where there is one."""

    child: Child
    plan: DayPlan
    tasks: list[Task]
    submission: Submission | None = None
    siblings: list[Sender] = field(default_factory=list)

    is_for_staff = False

    @property
    def is_second(self) -> bool:
        """Whether an older entry of the same home walks through the same plan."""
        return any(
            each.day_plan == self.plan and each.child.pk < self.child.pk for each in self.siblings
        )

    @property
    def is_walk(self) -> bool:
        """Whether it leads through the day: a home that sends for the first time, or anew."""
        return not (self.is_for_staff or self.submission)

    def form(self, *given: Any, form: Callable[..., SendForm] = SendForm, **more: Any) -> SendForm:
        """Return the form for the questions of this page."""
        return form(prompts_of(self.tasks), *given, siblings=self.siblings, **more)

    def address_after(self, arrival: Arrival) -> tuple[Any, ...]:
        """Return where to go once it is saved: to what was sent."""
        return "evidence:submission", arrival.submission.token


def guarded(request: HttpRequest, page: Page, action: Action) -> HttpResponse:
    """Read the form into the store, unless it says that it is larger than anything we take.

    Slow lines hold a place each, as uploads do, so that they never hold all there are.
    """
    if int(request.META.get("CONTENT_LENGTH") or 0) > limits.MAX_FORM_BYTES:
        messages.error(request, too_large())
        return show(request, page, page.form(), status=413)
    with ExitStack() as stack:
        try:
            stack.enter_context(desk(f"form {request.user.pk}"))
        except RequestError:
            return busy(request, page)
        stack.enter_context(straight_into_the_store(request))
        return receive(request, page, action)


def busy(request: HttpRequest, page: Page) -> HttpResponse:
    """Say that too many send just now; what is still on the line is not read."""
    messages.error(request, _("Many are sending just now. Please try again in a minute."))
    response = show(request, page, page.form(), status=503)
    response.headers["Retry-After"] = "60"
    return response


@csrf_protect
def receive(request: HttpRequest, page: Page, action: Action) -> HttpResponse:
    """Save what is sound in the form, and show the submission or what must be put right."""
    form = page.form(request.POST, request.FILES.getlist("pieces"))
    form.is_valid()
    if not form.came_through:
        return show(request, page, form, status=422)
    try:
        arrival = action(form)
        if form.shows_others:
            other_children.mark_all_of(arrival.submission, request.user)
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
    address = resolve_url(*page.address_after(arrival))
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
    earlier = Submission.objects.from_home_of(request.user).seems_open()
    asked = list(parts(page.tasks, form))
    plans = DayPlan.objects.out_for(page.child).exclude(pk=page.plan.pk)
    context = {
        "page": page,
        "form": form,
        "base": "base_staff.html" if page.is_for_staff else "base_family.html",
        "parts": asked,
        "answered": any(each.field.value() for part in asked for each in part.questions),
        "earlier": earlier.filter(child=page.child, day_plan=page.plan).first(),
        "other_days": plans[:DAYS_BEFORE] if page.is_for_staff else (),
        "headings": (_("What"), _("Kinds of file"), _("At most")),
        "allowed": limits.table(),
        "keeping": keeping_told(request, page.child),
        "most_pieces": limits.MAX_PIECES,
        "most_seconds": LIMITS.seconds,
        "most_minutes": LIMITS.seconds // 60,
        "blanks": BLANKS,
        "refusals": refusals_told(),
        "most_bytes": {kind.value: LIMITS.allowance(kind).bytes for kind in Kind},
        "minutes_told": MINUTES_TOLD,
    }
    if page.is_walk:
        context["walk"] = make_walk(
            page.plan, page.tasks, form, request.user.language, second=page.is_second
        )
        return render(request, "uploads/walk.html", context, status=status)
    return render(request, "uploads/send.html", context, status=status)


def refusals_told() -> dict[str, str]:
    """Return what the page itself can say of a file before it goes up, in the portal's words."""
    told = (RefusalReason.EMPTY, RefusalReason.UNKNOWN_KIND, RefusalReason.TOO_LONG)
    too_large = {f"too_big_{kind.value}": too_big(kind) for kind in Kind}
    return {reason.value: _(refusal_words(reason)) for reason in told} | too_large


def keeping_told(request: HttpRequest, child: Child) -> dict[str, str] | None:
    """Return how long work is kept, for who sends the first time; None for anybody else."""
    if Submission.objects.filter(sent_by=request.user).exists():
        return None
    lengths = {rule.kept.key: in_words(rule.length) for rule in rules_of(child.school)}
    return {"short": lengths["work"], "long": lengths["evidence"]}


def too_late(request: HttpRequest, child: Child, plan: DayPlan) -> HttpResponse:
    """Say that what was looked at stays as it is, and what can be done in its place."""
    context = {"child": child, "plan": plan}
    return render(request, "uploads/too_late.html", context, status=409)
