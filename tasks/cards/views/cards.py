"""What families read: today's card of each of their children, and those of the days before."""

import datetime as dt

from django.db.models import QuerySet
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from portal.people.models import Child
from tasks.cards.card import make_card
from tasks.models import DayPlan
from tasks.week import closures

DAYS_BEFORE = 10
# Apps above this one put in here what is theirs; the second is what stands otherwise.
ABOVE = ("slots/above_card.html", "components/nothing.html")
BEGIN = ("slots/begin.html", "components/nothing.html")
CAME_BACK = ("slots/came_back.html", "components/nothing.html")
BELOW = ("slots/below_card.html", "components/nothing.html")


@require_safe
def today(request: HttpRequest) -> HttpResponse:
    """Show today's card; to a family with several children, one slip for each."""
    children = list(own_children(request))
    if len(children) == 1:
        return card_page(request, children[0], children[0].school.today())
    dates = {child.school.today() for child in children}
    classes = [child.school_class_id for child in children]
    plans = DayPlan.objects.out().filter(school_class__in=classes, date__in=dates)
    by_class = {(plan.school_class_id, plan.date): plan for plan in plans}
    rows = [
        (child, day, by_class.get((child.school_class_id, day)))
        for child in children
        for day in [child.school.today()]
    ]
    return render(request, "cards/today.html", {"rows": rows, "came_back": CAME_BACK})


@require_safe
def card(request: HttpRequest, child_pk: int, date: dt.date) -> HttpResponse:
    """Show the card of one child for one day that went out; today's even when nothing did."""
    child = get_object_or_404(own_children(request), pk=child_pk)
    return card_page(request, child, date)


def own_children(request: HttpRequest) -> QuerySet[Child]:
    """Return the children the reader is at home with, and the school of each."""
    own = Child.objects.at_home_with(request.user)
    return own.select_related("school", "school_class__year__school")


def why_nothing(child: Child, date: dt.date, has_others: bool) -> str:
    """Say to a family why there may be nothing for *date*, or what to do."""
    school_class = child.school_class
    if school_class and (closed_for := closures(school_class, date, date).get(date)):
        return _("School is closed: %(why)s.") % {"why": closed_for}
    if has_others:
        return _("You can do a card from another day again.")
    return _("Your teacher sets work here. Look again tomorrow.")


def card_page(request: HttpRequest, child: Child, date: dt.date) -> HttpResponse:
    """Draw the card of *child* for *date*. Raises Http404 for another day than today without."""
    out = list(DayPlan.objects.out_for(child)[: DAYS_BEFORE + 1])
    today = child.school.today()
    plan = DayPlan.objects.out_for(child).filter(date=date).first()
    if plan is None and date != today:
        raise Http404
    tasks = plan.tasks.for_child(child).prefetch_related("prompts") if plan else []
    context = {
        "child": child,
        "date": date,
        "today": today,
        "card": make_card(plan, tasks, request.user.language) if plan else None,
        "why_nothing": "" if plan else why_nothing(child, date, has_others=bool(out)),
        "others": [each for each in out if each.date != date][:DAYS_BEFORE],
        "above_card": ABOVE,
        "begin": BEGIN,
        "below_card": BELOW,
        "siblings": Child.objects.at_home_with(request.user).count() > 1,
    }
    return render(request, "cards/card.html", context)
