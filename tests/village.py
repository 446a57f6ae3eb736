"""A small invented school for tests: who is whom is fixed, so expected answers can be read off.

Two classes of one school and one class of another. In Robins: Aisha (two homes) and Ben, with a
group for Ben; in Wrens: Cal, who is Aisha's sibling in the first home. Elsewhere: Dot.
"""

import datetime as dt
from dataclasses import dataclass, field

from django.utils import timezone

from portal.people.models import (
    Child,
    Group,
    Guardianship,
    Home,
    School,
    SchoolClass,
    SchoolYear,
    StaffPost,
    User,
)

MONDAY = dt.date(2026, 11, 23)
CAME_IN = dt.datetime(2026, 8, 31, tzinfo=dt.UTC)
PASSWORD = "a long kitchen password"


@dataclass
class Village:
    """The cast. Build it with `Village.build()` inside a database test."""

    school: School
    robins: SchoolClass
    wrens: SchoolClass
    aisha: Child
    ben: Child
    cal: Child
    dot: Child
    bens_group: Group
    first_home: Home
    second_home: Home
    bens_home: Home
    people: dict[str, User] = field(default_factory=dict)

    @classmethod
    def build(cls) -> "Village":
        """Make the school, its people and their homes."""
        school, robins, wrens = make_school("Harbour Lane", ["Robins", "Wrens"])
        other_school, larks = make_school("Hill Top", ["Larks"])
        aisha, ben = (make_child(robins, *name) for name in (("Aisha", "K"), ("Ben", "T")))
        cal, dot = make_child(wrens, "Cal", "K"), make_child(larks, "Dot", "M")
        group = Group.objects.create(school_class=robins, name="Apples", depth="with support")
        group.children.add(ben)
        first, second, bens = (Home.objects.create(school=school) for _home in range(3))
        dots = Home.objects.create(school=other_school)
        village = cls(school, robins, wrens, aisha, ben, cal, dot, group, first, second, bens)
        village.people = {
            "teacher": make_staff("teacher", school, StaffPost.Role.TEACHER, [robins]),
            "assistant": make_staff("assistant", school, StaffPost.Role.ASSISTANT, [robins]),
            "other teacher": make_staff("other-teacher", school, StaffPost.Role.TEACHER, [wrens]),
            "lead": make_staff("lead", school, StaffPost.Role.LEAD, []),
            "office": make_staff("office", school, StaffPost.Role.OFFICE, []),
            "foreign lead": make_staff("foreign-lead", other_school, StaffPost.Role.LEAD, []),
            "family": make_adult("family", first, [aisha, cal]),
            "second home": make_adult("second-home", second, [aisha]),
            "other family": make_adult("other-family", bens, [ben]),
            "foreign family": make_adult("foreign-family", dots, [dot]),
        }
        return village


def make_school(name: str, classes: list[str]) -> list:
    """Make a school in its year 2026/27, and its classes: [school, class, …].

    Its staff sign in by password alone; tests of the second step ask for it themselves.
    """
    school = School.objects.create(name=name, requires_second_factor=False)
    year = SchoolYear.objects.create(
        school=school, starts=dt.date(2026, 9, 1), ends=dt.date(2027, 7, 21)
    )
    return [school, *(SchoolClass.objects.create(year=year, name=title) for title in classes)]


def make_child(school_class: SchoolClass, first_name: str, initial: str) -> Child:
    """Make a child of *school_class*."""
    return Child.objects.create(
        school=school_class.school,
        school_class=school_class,
        first_name=first_name,
        initial=initial,
    )


def make_staff(name: str, school: School, role: str, classes: list[SchoolClass]) -> User:
    """Make a member of staff with the test password and a post at *school*."""
    user = User.objects.create_user(
        f"{name}@example.org", name.title(), PASSWORD, email_confirmed_at=timezone.now()
    )
    StaffPost.objects.create(user=user, school=school, role=role).classes.set(classes)
    return user


def make_adult(name: str, home: Home, children: list[Child]) -> User:
    """Make an adult at home with *children* in *home*."""
    user = User.objects.create_user(f"{name}@example.org", name.title())
    for child in children:
        make_tie(user, child, home)
    return user


def make_tie(adult: User, child: Child, home: Home) -> Guardianship:
    """Let *adult* be at home with *child*, and have come in before the year began."""
    tie = Guardianship.objects.create(adult=adult, child=child, home=home)
    Guardianship.objects.filter(pk=tie.pk).update(created_at=CAME_IN)
    return tie
