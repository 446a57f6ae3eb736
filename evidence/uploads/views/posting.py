"""Where staff post work of a family that sends on paper, or has no phone to send with."""

import datetime as dt
from functools import partial
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.csrf import csrf_exempt
from django.views.decorators.http import require_http_methods, require_safe

from evidence.submissions.permissions import Sender
from evidence.uploads import arrivals
from evidence.uploads.arrivals import Arrival
from evidence.uploads.forms import PostForm, SendForm
from evidence.uploads.questions import tasks_of
from evidence.uploads.tus.finishing import finish
from evidence.uploads.views.receiving import Page, guarded, show
from portal.headers import with_microphone
from portal.people.models import Child, Home, User
from tasks.models import DayPlan


@require_safe
def post_latest(request: HttpRequest, child_pk: int) -> HttpResponse:
    """Lead to the latest day for which work can be posted."""
    child = get_object_or_404(Child.objects.taught_by(request.user), pk=child_pk)
    plan = get_object_or_404(DayPlan.objects.out_for(child)[:1])
    return redirect("evidence:post", child.pk, plan.date)


@csrf_exempt  # As for `send`.
@with_microphone
@require_http_methods(["GET", "HEAD", "POST"])
def post(request: HttpRequest, child_pk: int, date: dt.date) -> HttpResponse:
    """Post work of a child on behalf of one of its homes, or of none."""
    child = get_object_or_404(Child.objects.taught_by(request.user), pk=child_pk)
    plan = get_object_or_404(DayPlan.objects.out_for(child), date=date)
    page = PostPage(child, plan, tasks_of(child, plan))
    if request.method != "POST":
        return show(request, page, page.form())
    return guarded(request, page, partial(post_new, request.user, page))


class PostPage(Page):
    """The sending page as staff see it."""

    is_for_staff = True

    def form(self, *given: Any, **more: Any) -> PostForm:
        """Return the form for the questions of this page, with a choice of homes."""
        return super().form(*given, form=partial(PostForm, Home.objects.of(self.child)), **more)

    def address_after(self, arrival: Arrival) -> tuple[Any, ...]:
        """Return where to go once it is saved: here again, for what lies next in the pile."""
        return "evidence:post", self.child.pk, self.plan.date


def post_new(user: User, page: PostPage, form: SendForm) -> Arrival:
    """Take in a form of the posting page."""
    key, home = form.cleaned_data["form_key"], form.chosen_home
    sender = Sender(user, page.child, home, page.plan, key, by_staff=True)
    if form.sent_ahead:
        return finish(sender, form.words, form.sent_ahead)
    return arrivals.send(sender, form.words, form.arrived)
