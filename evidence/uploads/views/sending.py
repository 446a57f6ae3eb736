"""Where a family sends work from, for a child and a day, or more for what it sent."""

import datetime as dt
from functools import partial

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.views.decorators.csrf import csrf_exempt
from django.views.decorators.http import require_http_methods

from evidence.models import Submission
from evidence.submissions import permissions
from evidence.submissions.permissions import Sender
from evidence.uploads import arrivals
from evidence.uploads.arrivals import Arrival
from evidence.uploads.forms import SendForm, words_of
from evidence.uploads.questions import tasks_of
from evidence.uploads.tus.finishing import finish
from evidence.uploads.views.receiving import Page, guarded, show, too_late
from portal.headers import with_microphone
from portal.people.models import Child, User
from tasks.models import DayPlan

# The token of the form is checked in `receive`: reading it means reading the files, and nobody's
# files are read before it is known that this person may send them here.


@csrf_exempt
@with_microphone
@require_http_methods(["GET", "HEAD", "POST"])
def send(request: HttpRequest, child_pk: int, date: dt.date) -> HttpResponse:
    """Send a new piece of work for a child and a day."""
    child = get_object_or_404(Child.objects.at_home_with(request.user), pk=child_pk)
    plan = get_object_or_404(DayPlan.objects.out_for(child), date=date)
    sender = permissions.at_home(request.user, child, plan, "")
    page = Page(child, plan, tasks_of(child, plan), siblings=permissions.siblings_of(sender))
    if request.method != "POST":
        return show(request, page, page.form())
    return guarded(request, page, partial(send_new, sender))


@csrf_exempt
@with_microphone
@require_http_methods(["GET", "HEAD", "POST"])
def send_more(request: HttpRequest, token: str) -> HttpResponse:
    """Add pieces to a submission, and put its words right, until it has been looked at."""
    own = Submission.objects.from_home_of(request.user).active()
    submission = get_object_or_404(own.select_related("child", "day_plan"), token=token)
    child, plan = submission.child, submission.day_plan
    page = Page(child, plan, tasks_of(child, plan), submission)
    if request.method != "POST":
        if not submission.can_be_changed:
            return too_late(request, child, plan)
        return show(request, page, page.form(initial=words_of(submission)))
    return guarded(request, page, partial(send_more_to, request.user, submission))


def send_new(sender: Sender, form: SendForm) -> Arrival:
    """Take in a form of the sending page."""
    keyed = permissions.with_key(sender, form.cleaned_data["form_key"])
    also = permissions.chosen(permissions.siblings_of(keyed), form.siblings_chosen)
    if form.sent_ahead:
        return finish(keyed, form.words, form.sent_ahead, also)
    return arrivals.send(keyed, form.words, form.arrived, also)


def send_more_to(user: User, submission: Submission, form: SendForm) -> Arrival:
    """Take in a form that adds to *submission*."""
    if not form.sent_ahead:
        return arrivals.add(submission, form.words, form.arrived)
    key = form.cleaned_data["form_key"]
    sender = permissions.at_home(user, submission.child, submission.day_plan, key)
    return finish(sender, form.words, form.sent_ahead, adds_to=submission)
