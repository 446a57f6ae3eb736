"""Saying that a day's work could not be done, and taking that back."""

import datetime as dt

from django import forms
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.views.decorators.http import require_POST

from evidence.submissions import permissions
from evidence.submissions.nonsubmissions import Nonsubmission
from evidence.submissions.permissions import Sender
from portal.people.models import Child
from tasks.models import DayPlan


class ReasonForm(forms.ModelForm):
    """Why it could not be done; nobody has to say."""

    class Meta:
        model = Nonsubmission
        fields = ("reason",)


@require_POST
def could_not(request: HttpRequest, child_pk: int, date: dt.date) -> HttpResponse:
    """Note that the work of a day could not be done; said twice, it is one note."""
    sender = sender_of(request, child_pk, date)
    note, _new = Nonsubmission.objects.get_or_create(
        child=sender.child,
        home=sender.home,
        day_plan=sender.day_plan,
        defaults={"said_by": request.user},
    )
    if "reason" in request.POST and (form := ReasonForm(request.POST, instance=note)).is_valid():
        form.save()
    return back(sender)


@require_POST
def could_after_all(request: HttpRequest, child_pk: int, date: dt.date) -> HttpResponse:
    """Take back what was said, with its reason."""
    sender = sender_of(request, child_pk, date)
    said = Nonsubmission.objects.from_home_of(request.user)
    said.filter(child=sender.child, day_plan=sender.day_plan).delete()
    return back(sender)


def sender_of(request: HttpRequest, child_pk: int, date: dt.date) -> Sender:
    """Return who says it, about whom and which day; 404 where work could not be sent either."""
    child = get_object_or_404(Child.objects.at_home_with(request.user), pk=child_pk)
    plan = get_object_or_404(DayPlan.objects.out_for(child), date=date)
    return permissions.at_home(request.user, child, plan, "")


def back(sender: Sender) -> HttpResponse:
    """Go back to the card, to where it is said."""
    card = reverse("tasks:card", args=[sender.child.pk, sender.day_plan.date])
    return redirect(f"{card}#could-not")
