"""What every page knows: the places its reader can go to."""

from typing import Any, NamedTuple

from django.http import HttpRequest
from django.urls import reverse
from django.utils.translation import gettext as _

from portal.people.models import SchoolClass

LAST_CLASS = "last class"


class Place(NamedTuple):
    """One place of the bar: its word, its address, whether one is there, and its icon.

    news: the template that says whether something new is there, of an app above this one.
    """

    label: str
    url: str
    current: bool = False
    icon: str = "page"
    news: str = ""


class ClassChoice(NamedTuple):
    """One class of the switch: its name, its queue, and whether one is there."""

    label: str
    url: str
    current: bool = False


def places(request: HttpRequest) -> dict[str, Any]:
    """Return the places of the bar at the top or bottom; none for somebody not signed in."""
    user = getattr(request, "user", None)
    if user is None or not user.is_authenticated:
        return {"places": []}
    if not user.has_post:
        return {"places": family_places(request)}
    taught = list(SchoolClass.objects.taught_by(user))
    here = class_here(request, taught)
    if here is None:
        return {"places": [place(request, _("Classes"), "people:classes", "children")]}
    return {
        "places": staff_places(request, here),
        "class_switch": class_choices(request, taught, here) if len(taught) > 1 else [],
    }


def place(request: HttpRequest, label: str, name: str, icon: str, **kwargs: Any) -> Place:
    """Return one place, marked when the page asked for belongs to it."""
    return Place(label, reverse(name, kwargs=kwargs), is_at(request, name), icon)


def is_at(request: HttpRequest, name: str) -> bool:
    """Whether the page asked for is *name*, or one reached from there."""
    match = request.resolver_match
    return match is not None and NEAREST.get(match.view_name, match.view_name) == name


# Each place, and the pages without one that are reached from there.
REACHED_FROM = {
    "tasks:plan-week": """
        tasks:plan-day tasks:plan-preview tasks:in-class tasks:part-add tasks:part-change
        tasks:part-reword tasks:part-numbers tasks:part-own
        tasks:sequence tasks:sequence-new tasks:sequence-set tasks:groups tasks:group
        tasks:kinds tasks:kind tasks:print tasks:print-pdf
    """,
    "tasks:today": """
        tasks:card evidence:send evidence:could-not evidence:reminders
    """,
    "evidence:sent": """
        evidence:submission evidence:send-more evidence:looked
        assessment:leaves assessment:child-leaves assessment:leaf
    """,
    "assessment:this-week": """
        assessment:week assessment:child-week
    """,
    "assessment:queue": """
        assessment:look assessment:not-heard-from assessment:marks assessment:phrases
        assessment:phrase assessment:second-looks assessment:second-look
        evidence:post evidence:piece-others evidence:piece-in-class evidence:letting-go
    """,
    "assessment:goals": """
        assessment:child assessment:evidence assessment:goal assessment:gaps
        assessment:class-goals assessment:goal-sets assessment:goal-set
        assessment:goal-set-bring-in assessment:goal-set-kinds assessment:goal-statement
        assessment:next-groups assessment:taking-part assessment:judgements
        assessment:child-judgements assessment:school-judgements
        assessment:school-goals assessment:school-mistakes
        assessment:samples assessment:sample
    """,
    "assessment:class-this-week": """
        assessment:class-week assessment:family-words assessment:school-week
    """,
    "people:classes": """
        people:roster people:child-add people:child-change people:slips people:homes
        people:invitations people:staff people:staff-add people:staff-post
        people:roster-import people:roster-columns people:roster-check
        people:years people:move-up people:closures people:log people:languages
        privacy:class-consents privacy:desk privacy:rules privacy:tonight
        privacy:child privacy:erase
    """,
}
NEAREST = {page: place for place, pages in REACHED_FROM.items() for page in pages.split()}


def family_places(request: HttpRequest) -> list[Place]:
    """Return the places of an adult at home."""
    return [
        place(request, _("Today"), "tasks:today", "today"),
        place(request, _("Sent"), "evidence:sent", "sent")._replace(news="slots/sent_news.html"),
        place(request, _("Week"), "assessment:this-week", "week"),
        place(request, _("Words"), "tasks:number-words", "help"),
    ]


def staff_places(request: HttpRequest, here: SchoolClass) -> list[Place]:
    """Return the places of the loop for the class *here*."""
    return [
        place(request, label, name, icon, class_pk=here.pk)
        for label, name, icon in (
            (_("Plan"), "tasks:plan-week", "plan"),
            (_("Look"), "assessment:queue", "look"),
            (_("Goals"), "assessment:goals", "goals"),
            (_("Week"), "assessment:class-this-week", "week"),
        )
    ] + [place(request, _("Classes"), "people:classes", "children")]


def class_here(request: HttpRequest, taught: list[SchoolClass]) -> SchoolClass | None:
    """Return the class the page is about, else the one last looked at, else the first."""
    match = request.resolver_match
    wanted = match.kwargs.get("class_pk") if match else None
    wanted = wanted or request.session.get(LAST_CLASS)
    here = next((each for each in taught if each.pk == wanted), taught[0] if taught else None)
    if here and request.session.get(LAST_CLASS) != here.pk:
        request.session[LAST_CLASS] = here.pk
    return here


def class_choices(
    request: HttpRequest, taught: list[SchoolClass], here: SchoolClass
) -> list[ClassChoice]:
    """Return the classes to switch between, each leading to its queue."""
    return [
        ClassChoice(
            each.name, reverse("assessment:queue", kwargs={"class_pk": each.pk}), each == here
        )
        for each in taught
    ]
