"""The demo's own pages: the way round the loop, ways in, its mails, and starting again."""

import datetime as dt

from django.conf import settings
from django.contrib import messages
from django.contrib.auth import get_user_model, login
from django.contrib.auth.decorators import login_not_required
from django.contrib.auth.models import AnonymousUser
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from portal import demo_date
from portal.demo import mails
from portal.demo.again import BeingMadeError, start_again
from portal.demo.cast import CAST, ERRANDS, STEPS, Step
from portal.people.accounts.views.sign_in import MODEL_BACKEND
from portal.people.models import Child, SchoolClass, User

MAILS_SHOWN = 40


@login_not_required
@require_safe
def start(request: HttpRequest) -> HttpResponse:
    """Lead a visitor round the loop, or let them choose who to come in as."""
    names = {person.key: person.title for person in CAST}
    errands = {errand.who: errand for errand in ERRANDS}
    context = {
        "cast": [(person, errands.get(person.key)) for person in CAST],
        "steps": [(step, names[step.who]) for step in STEPS],
        "open_to_network": settings.SITE_HOST not in ("localhost", "127.0.0.1"),
    }
    return render(request, "portal/demo_start.html", context)


@login_not_required
@require_safe
def come_in_as(request: HttpRequest, key: str) -> HttpResponse:
    """Sign the visitor in as one of the cast."""
    sign_in(request, key)
    return redirect("home")


@login_not_required
@require_safe
def step(request: HttpRequest, key: str) -> HttpResponse:
    """Sign the visitor in as whoever takes one step of the loop, and open its page."""
    found = next((each for each in STEPS + ERRANDS if each.key == key), None)
    if found is None:
        raise Http404
    return redirect(page_of(found, sign_in(request, found.who)))


@login_not_required
@require_safe
def mail(request: HttpRequest) -> HttpResponse:
    """Show the mails of the demo, the newest first."""
    return render(request, "portal/demo_mails.html", {"mails": mails.kept(MAILS_SHOWN)})


@login_not_required
@require_POST
def again(request: HttpRequest) -> HttpResponse:
    """Return the invented school back as it was. Everyone who was signed in is signed out."""
    try:
        start_again()
    except BeingMadeError:
        messages.info(request, "The school is being set up at this moment.")
        return redirect("demo:start")
    request.session.flush()
    request.user = AnonymousUser()
    messages.success(request, "The invented school is as it was at the beginning.")
    return redirect("demo:start")


def sign_in(request: HttpRequest, key: str) -> User:
    """Sign the visitor in as *key* of the cast. Raises Http404 for any other word."""
    person = next((each for each in CAST if each.key == key), None)
    if person is None:
        raise Http404
    user = get_object_or_404(get_user_model().objects.proved(person.email))
    login(request, user, backend=MODEL_BACKEND)
    return user


def page_of(step: Step, user: User) -> str:
    """Return the address of the page of *step* for *user*: of their first class or child.

    Its day is today, or on a page of planning the next school day.
    """
    known: dict[str, object] = {}
    if user.has_post:
        school_class = SchoolClass.objects.taught_by(user).order_by("pk").first()
        if school_class:
            known = {"class_pk": school_class.pk, "date": next_school_day(school_class)}
    elif child := Child.objects.at_home_with(user).order_by("pk").first():
        known = {"child_pk": child.pk, "date": child.school.today()}
    if not known.keys() >= set(step.needs):
        raise Http404  # A visitor has changed the school that much.
    return reverse(step.page, kwargs={name: known[name] for name in step.needs})


def next_school_day(school_class: SchoolClass) -> dt.date:
    """Return the school day after today."""
    school = school_class.school
    closures = list(school.closures.values_list("first", "last"))
    date = school.today() + dt.timedelta(days=1)
    while demo_date.last_school_day(date, closures) != date:
        date += dt.timedelta(days=1)
    return date
