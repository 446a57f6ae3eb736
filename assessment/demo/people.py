"""Who is in the invented school."""

import datetime as dt
from dataclasses import dataclass

from django.utils import timezone

from assessment.demo.story import ON_PAPER, SIBLINGS, SUPPORTED, TWO_HOMES
from portal.demo_date import last_school_day
from portal.people.models import (
    Child,
    Closure,
    Group,
    Guardianship,
    Home,
    School,
    SchoolClass,
    SchoolYear,
    StaffPost,
    User,
)

ROBINS = (
    *("Mina A", "Tobi B", "Elska C", "Oren D", "Suri D", "Jory E", "Pia F", "Ilan F", "Noor G"),
    *("Bram H", "Wren H", "Ada I", "Luca J", "Esme K", "Rafi L", "Thea M", "Kofi N", "Zia O"),
    *("Hugo P", "Lina P", "Omar Q", "Ffion R", "Dara S", "Milo S", "Anya T", "Yusuf U", "Cleo V"),
    *("Idris W", "Maja Y", "Sol Z"),
)
WRENS = ("Tamsin B", "Ravi C", "Greta D", "Emre F", "Lowri H", "Kit M")


@dataclass(frozen=True)
class Cast:
    """The invented school once it is in the database. today: the school day it is made for."""

    today: dt.date
    school: School
    robins: SchoolClass
    wrens: SchoolClass
    teacher: User
    assistant: User
    lead: User
    group: Group
    closures: list[Closure]
    children: dict[str, Child]
    homes: dict[str, Home]
    adults: dict[int, User]


def make_people(date: dt.date) -> Cast:
    """Make the school, its year around *date*, its classes, children, homes and accounts."""
    today = last_school_day(date, [(first, last) for _name, first, last in breaks(date)])
    school = School.objects.create(
        name="Quillfeather Infant School",
        requires_second_factor=False,
        safeguarding_lead_name="Ms Tove Larkin",
        safeguarding_lead_phone="extension 14",
        privacy_contact="the school office, extension 10",
    )
    year = make_year(school, today)
    closures = Closure.objects.bulk_create(
        Closure(school=school, name=name, first=first, last=last)
        for name, first, last in breaks(today)
    )
    robins, wrens = (SchoolClass.objects.create(year=year, name=n) for n in ("Robins", "Wrens"))
    children = {
        **{name: make_child(robins, name) for name in ROBINS},
        **{name: make_child(wrens, name) for name in WRENS},
    }
    homes, adults = make_homes(school, children)
    Guardianship.objects.update(created_at=before(year))
    group = Group.objects.create(school_class=robins, name="Pear table", depth=Group.Depth.SUPPORT)
    group.children.set(children[name] for name in SUPPORTED)
    teacher, assistant, lead = make_staff(school, robins, wrens)
    return Cast(
        *(today, school, robins, wrens, teacher, assistant, lead, group, closures),
        *(children, homes, adults),
    )


def make_year(school: School, today: dt.date) -> SchoolYear:
    """Make the school year around *today*, long enough for the last weeks of the story."""
    usual = dt.date(today.year if today.month >= 8 else today.year - 1, 9, 1)
    monday = today - dt.timedelta(days=today.weekday())
    starts = min(usual, monday - dt.timedelta(weeks=3))
    ends = max(dt.date(usual.year + 1, 7, 21), today + dt.timedelta(weeks=3))
    return SchoolYear.objects.create(school=school, starts=starts, ends=ends)


def before(year: SchoolYear) -> dt.datetime:
    """Return the moment at which the families came in: the eve of *year*."""
    eve = year.starts - dt.timedelta(days=1)
    return dt.datetime.combine(eve, dt.time(12), tzinfo=year.school.zone)


def breaks(day: dt.date) -> list[tuple[str, dt.date, dt.date]]:
    """Return the breaks of the school year that *day* is in: name, first and last day."""
    autumn = day.year if day.month >= 8 else day.year - 1
    spans = (
        ("autumn break", dt.date(autumn, 10, 26), 5),
        ("winter break", dt.date(autumn, 12, 21), 12),
        ("spring break", dt.date(autumn + 1, 4, 5), 12),
    )
    return [(name, first, first + dt.timedelta(days=days - 1)) for name, first, days in spans]


def make_child(school_class: SchoolClass, name: str) -> Child:
    """Make a child called by first name and initial."""
    first_name, initial = name.split()
    return Child.objects.create(
        school=school_class.school,
        school_class=school_class,
        first_name=first_name,
        initial=initial,
    )


def make_homes(
    school: School, children: dict[str, Child]
) -> tuple[dict[str, Home], dict[int, User]]:
    """Return each child a home with an adult; siblings share one, a family on paper has no adult.

    The child with two homes has the second under its name and "2". Adults: by the home's key.
    """
    homes: dict[str, Home] = {}
    adults: dict[int, User] = {}
    older = {second: first for first, second in SIBLINGS}
    emails = {"Mina A": "family@demo.invalid", "Tobi B": "siblings@demo.invalid"}
    for number, (name, child) in enumerate(children.items()):
        if name in older:
            home = homes[name] = homes[older[name]]
            Guardianship.objects.create(adult=adults[home.pk], child=child, home=home)
            continue
        home = homes[name] = Home.objects.create(school=school)
        home.children.add(child)
        if name not in ON_PAPER:
            email = emails.get(name, f"home{number}@demo.invalid")
            adult = adults[home.pk] = make_adult(email, child.first_name)
            Guardianship.objects.create(adult=adult, child=child, home=home)
    child = children[TWO_HOMES]
    home = homes[f"{TWO_HOMES} 2"] = Home.objects.create(school=school)
    adult = adults[home.pk] = make_adult("second-home@demo.invalid", child.first_name)
    Guardianship.objects.create(adult=adult, child=child, home=home)
    return homes, adults


def make_adult(email: str, first_name: str) -> User:
    """Make an account for an adult at home; the address counts as confirmed."""
    return User.objects.create_user(
        email, f"an adult at home with {first_name}", email_confirmed_at=timezone.now()
    )


def make_staff(school: School, robins: SchoolClass, wrens: SchoolClass) -> tuple[User, User, User]:
    """Make the staff of the cast; give the teacher and the assistant of *robins*, and the lead."""
    posts = (
        ("teacher", "Ms Calder", StaffPost.Role.TEACHER, [robins]),
        ("assistant", "Mr Oyelade", StaffPost.Role.ASSISTANT, [robins]),
        ("other-teacher", "Mrs Lindqvist", StaffPost.Role.TEACHER, [wrens]),
        ("lead", "Dr Brandt", StaffPost.Role.LEAD, []),
        ("office", "School office", StaffPost.Role.OFFICE, []),
    )
    made = {}
    for key, name, role, classes in posts:
        user = User.objects.create_user(
            f"{key}@demo.invalid", name, email_confirmed_at=timezone.now()
        )
        StaffPost.objects.create(user=user, school=school, role=role).classes.set(classes)
        made[key] = user
    return made["teacher"], made["assistant"], made["lead"]
