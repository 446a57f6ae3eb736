"""What this app puts into a copy of a child's data: for EXPORTS of portal.data_protection."""

from collections.abc import Iterator
from typing import Any

from django.db.models import Model
from django.utils.translation import gettext_lazy as _

from portal.data_protection.consent.wording import words_of
from portal.data_protection.hooks import CopyFile, Scope, Section
from portal.data_protection.models import DataRequest
from portal.people.models import (
    Child,
    Consent,
    Guardianship,
    Home,
    Invitation,
    School,
    SchoolClass,
    StaffPost,
)


def copy(scope: Scope) -> Iterator[Section | CopyFile]:
    """Yield the child itself, who is at home, what was agreed to, and what was asked for.

    No adult is named: what one home knows of its own people the other is not told.
    """
    child = scope.child
    yield Section("child", _("The child"), [about(child)])
    yield Section("homes", _("Adults at home"), [*at_home(scope)])
    if scope.home is None:
        yield Section("invitations", _("Invitations"), [*invitations(child)])
    yield Section("consents", _("What was agreed to, newest first"), [*consents(scope)])
    yield Section("wishes", _("What was asked about the data"), [*wishes(scope)])


def home_numbers(child: Child) -> dict[int | None, str]:
    """Return the homes of *child* as "home 1", "home 2": the number tells no address."""
    homes = Home.objects.filter(children=child) | Home.objects.filter(guardianships__child=child)
    pks = homes.order_by("pk").distinct().values_list("pk", flat=True)
    return {pk: f"home {number}" for number, pk in enumerate(pks, start=1)}


def about(child: Child) -> dict[str, Any]:
    """Return what is known of the child itself."""
    return {
        "first_name": child.first_name,
        "initial": child.initial,
        "school": child.school.name,
        "class": child.school_class.name if child.school_class else "",
        "groups": [group.name for group in child.groups.all()],
        "has_a_mark_of_the_school_number": bool(child.office_key),
    }


def own(scope: Scope, rows: Any) -> Any:
    """Narrow *rows*, which have a home, to the home of *scope* where there is one."""
    return rows.filter(home=scope.home) if scope.home else rows


def at_home(scope: Scope) -> Iterator[dict[str, Any]]:
    """Yield since when and until when an adult was at home with the child."""
    numbers = home_numbers(scope.child)
    for each in own(scope, Guardianship.objects.filter(child=scope.child)).order_by("pk"):
        yield {
            "home": numbers[each.home_id],
            "since": moment(each, "created_at"),
            "until": moment(each, "ended_at"),
        }


def invitations(child: Child) -> Iterator[dict[str, Any]]:
    """Yield when somebody was invited."""
    numbers = home_numbers(child)
    for each in Invitation.objects.filter(child=child).order_by("pk"):
        yield {
            "home": numbers.get(each.home_id, ""),
            "made_at": moment(each, "made_at"),
            "used_at": moment(each, "used_at"),
            "revoked_at": moment(each, "revoked_at"),
        }


def consents(scope: Scope) -> Iterator[dict[str, Any]]:
    """Yield each answer with the words that it was given to."""
    numbers = home_numbers(scope.child)
    for each in own(scope, Consent.objects.filter(child=scope.child)):
        yield {
            "at": moment(each, "at"),
            "home": numbers.get(each.home_id, ""),
            "on_paper": each.on_paper,
            "purpose": str(each.get_purpose_display()),
            "answer": "yes" if each.given else "no",
            "words": words_of(each.purpose, each.wording),
            "version_of_the_words": each.wording,
        }


def wishes(scope: Scope) -> Iterator[dict[str, Any]]:
    """Yield what was asked for; a home is told of its own adults' alone."""
    rows = DataRequest.objects.filter(child=scope.child)
    if scope.home:
        here = Guardianship.objects.filter(child=scope.child, home=scope.home)
        rows = rows.filter(asked_by__in=here.values("adult"))
    for each in rows:
        yield {
            "what": str(each.get_what_display()),
            "asked_at": moment(each, "asked_at"),
            "settled_at": moment(each, "settled_at"),
        }


def of_school(school: School) -> Iterator[Section]:
    """Yield the school, its classes, staff and children, by name: it moves its own records."""
    yield Section("school", _("The school"), [{
        "name": school.name,
        "time_zone": school.time_zone,
        "years": [f"{year.starts} to {year.ends}" for year in school.years.all()],
        "closures": [f"{each.name}: {each.first} to {each.last}" for each in school.closures.all()],
    }])  # fmt: skip
    classes = SchoolClass.objects.filter(year__school=school).select_related("year")
    yield Section(
        "classes", _("Classes"), [{"name": each.name, "year": str(each.year)} for each in classes]
    )
    posts = StaffPost.objects.filter(school=school).select_related("user").order_by("pk")
    yield Section("staff", _("Staff"),
                  [{"name": each.user.name, "email": each.user.email, "role": each.role,
                    "began_at": moment(each, "began_at"), "ended_at": moment(each, "ended_at")}
                   for each in posts])  # fmt: skip
    children = Child.objects.filter(school=school).select_related("school_class")
    yield Section("children", _("Children"), [roster_line(child) for child in children])


def roster_line(child: Child) -> dict[str, Any]:
    """Return who a folder of the copy is about."""
    return {
        "number": child.pk,
        "first_name": child.first_name,
        "initial": child.initial,
        "class": child.school_class.name if child.school_class else "",
    }


def moment(row: Model, field: str) -> str:
    """Return a time of *row* as ISO 8601 writes it, "" for none."""
    value = getattr(row, field)
    return value.isoformat() if value else ""
