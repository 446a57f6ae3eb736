"""What every page knows: the places its reader can go to."""

from typing import Any, NamedTuple

from django.http import HttpRequest
from django.urls import reverse
from django.utils.translation import gettext as _

from portal.people.models import SchoolClass

LAST_CLASS = "last class"


class Place(NamedTuple):
    """One place of the bar: its word, its address, whether one is there, and its icon."""

    label: str
    url: str
    current: bool = False
    icon: str = "page"


class ClassChoice(NamedTuple):
    """One class of the switch: its name, its queue, and whether one is there."""

    label: str
    url: str
    current: bool = False


def places(request: HttpRequest) -> dict[str, Any]:
    """Give the places of the bar at the top or bottom; none for somebody not signed in."""
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
    """Give one place, marked when the page asked for belongs to it."""
    return Place(label, reverse(name, kwargs=kwargs), is_at(request, name), icon)


def is_at(request: HttpRequest, name: str) -> bool:
    """Whether the page asked for is *name*, or one reached from there."""
    match = request.resolver_match
    return match is not None and NEAREST.get(match.view_name, match.view_name) == name


# Pages without a place of their own, and the place they were reached from.
NEAREST = {
    "tasks:plan-day": "tasks:plan-week",
    "tasks:plan-preview": "tasks:plan-week",
    "tasks:sequence": "tasks:plan-week",
    "tasks:sequence-new": "tasks:plan-week",
    "tasks:sequence-set": "tasks:plan-week",
    "tasks:groups": "tasks:plan-week",
    "tasks:group": "tasks:plan-week",
    "tasks:kinds": "tasks:plan-week",
    "tasks:kind": "tasks:plan-week",
    "tasks:print": "tasks:plan-week",
    "tasks:print-pdf": "tasks:plan-week",
    "tasks:card": "tasks:today",
    "evidence:send": "tasks:today",
    "evidence:reminders": "tasks:today",
    "evidence:submission": "evidence:sent",
    "assessment:look": "assessment:queue",
    "assessment:not-heard-from": "assessment:queue",
    "assessment:marks": "assessment:queue",
    "assessment:phrases": "assessment:queue",
    "assessment:phrase": "assessment:queue",
    "assessment:child": "assessment:goals",
    "assessment:evidence": "assessment:goals",
    "assessment:goal": "assessment:goals",
    "assessment:class-goals": "assessment:goals",
    "assessment:goal-sets": "assessment:goals",
    "assessment:goal-set": "assessment:goals",
    "assessment:goal-set-bring-in": "assessment:goals",
    "assessment:goal-set-kinds": "assessment:goals",
    "assessment:goal-statement": "assessment:goals",
    "assessment:gaps": "assessment:goals",
    "assessment:next-groups": "assessment:goals",
    "assessment:taking-part": "assessment:goals",
    "assessment:judgements": "assessment:goals",
    "assessment:child-judgements": "assessment:goals",
    "assessment:school-judgements": "assessment:goals",
    "assessment:samples": "assessment:goals",
    "assessment:sample": "assessment:goals",
    "assessment:second-looks": "assessment:queue",
    "assessment:second-look": "assessment:queue",
    "assessment:class-week": "assessment:class-this-week",
    "assessment:family-words": "assessment:class-this-week",
    "assessment:school-week": "assessment:class-this-week",
    "assessment:replies": "evidence:sent",
    "assessment:child-replies": "evidence:sent",
    "assessment:week": "assessment:this-week",
    "assessment:child-week": "assessment:this-week",
}


def family_places(request: HttpRequest) -> list[Place]:
    """Give the places of an adult at home."""
    return [
        place(request, _("Today"), "tasks:today", "today"),
        place(request, _("Sent"), "evidence:sent", "sent"),
        place(request, _("Week"), "assessment:this-week", "week"),
        place(request, _("Words"), "tasks:number-words", "help"),
    ]


def staff_places(request: HttpRequest, here: SchoolClass) -> list[Place]:
    """Give the places of the loop for the class *here*."""
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
    """Give the class the page is about, else the one last looked at, else the first."""
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
    """Give the classes to switch between, each leading to its queue."""
    return [
        ClassChoice(
            each.name, reverse("assessment:queue", kwargs={"class_pk": each.pk}), each == here
        )
        for each in taught
    ]
