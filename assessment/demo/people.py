"""Who is in the invented school."""

import datetime as dt
from dataclasses import dataclass

from django.utils import timezone

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
ON_PAPER, NOT_HEARD_FROM = "Bram H", "Cleo V"
SUPPORTED = ("Oren D", "Pia F", "Kofi N", "Sol Z")
SIBLINGS = (("Tobi B", "Tamsin B"), ("Wren H", "Lowri H"))


@dataclass(frozen=True)
class Cast:
    """The invented school once it is in the database."""

    school: School
    robins: SchoolClass
    wrens: SchoolClass
    teacher: User
    assistant: User
    children: dict[str, Child]
    homes: dict[str, Home]


def make_people(today: dt.date) -> Cast:
    """Make the school, its year around *today*, its classes, children, homes and accounts."""
    school = School.objects.create(
        name="Quillfeather Infant School",
        requires_second_factor=False,
        safeguarding_lead_name="Ms Tove Larkin",
        safeguarding_lead_phone="extension 14",
        privacy_contact="the school office, extension 10",
    )
    starts = dt.date(today.year if today.month >= 8 else today.year - 1, 9, 1)
    year = SchoolYear.objects.create(
        school=school, starts=starts, ends=dt.date(starts.year + 1, 7, 21)
    )
    Closure.objects.create(
        school=school,
        name="winter break",
        first=dt.date(starts.year, 12, 21),
        last=dt.date(starts.year + 1, 1, 1),
    )
    robins, wrens = (SchoolClass.objects.create(year=year, name=n) for n in ("Robins", "Wrens"))
    children = {
        **{name: make_child(robins, name) for name in ROBINS},
        **{name: make_child(wrens, name) for name in WRENS},
    }
    homes = make_homes(school, children)
    group = Group.objects.create(school_class=robins, name="Pear table", depth=Group.Depth.SUPPORT)
    group.children.set(children[name] for name in SUPPORTED)
    teacher, assistant = make_staff(school, robins, wrens)
    return Cast(school, robins, wrens, teacher, assistant, children, homes)


def make_child(school_class: SchoolClass, name: str) -> Child:
    """Make a child called by first name and initial."""
    first_name, initial = name.split()
    return Child.objects.create(
        school=school_class.school,
        school_class=school_class,
        first_name=first_name,
        initial=initial,
    )


def make_homes(school: School, children: dict[str, Child]) -> dict[str, Home]:
    """Give each child a home with an adult; siblings share one, a family on paper has no adult."""
    homes: dict[str, Home] = {}
    older = {second: first for first, second in SIBLINGS}
    for number, (name, child) in enumerate(children.items()):
        if name in older:
            homes[name] = homes[older[name]]
            adult = homes[name].guardianships.first().adult
            Guardianship.objects.create(adult=adult, child=child, home=homes[name])
            continue
        homes[name] = Home.objects.create(school=school)
        if name != ON_PAPER:
            email = {"Mina A": "family@demo.invalid", "Tobi B": "siblings@demo.invalid"}
            adult = make_adult(email.get(name, f"home{number}@demo.invalid"), child.first_name)
            Guardianship.objects.create(adult=adult, child=child, home=homes[name])
    return homes


def make_adult(email: str, first_name: str) -> User:
    """Make an account for an adult at home; the address counts as confirmed."""
    return User.objects.create_user(
        email, f"an adult at home with {first_name}", email_confirmed_at=timezone.now()
    )


def make_staff(school: School, robins: SchoolClass, wrens: SchoolClass) -> tuple[User, User]:
    """Make the staff of the cast; give the teacher and the assistant of *robins*."""
    posts = (
        ("teacher", "Ms Calder", StaffPost.Role.TEACHER, [robins]),
        ("assistant", "Mr Oyelade", StaffPost.Role.ASSISTANT, [robins]),
        ("other-teacher", "Mrs Lindqvist", StaffPost.Role.TEACHER, [wrens]),
        ("lead", "Dr Brandt", StaffPost.Role.LEAD, []),
        ("office", "School office", StaffPost.Role.OFFICE, []),
    )
    made = []
    for key, name, role, classes in posts:
        user = User.objects.create_user(f"{key}@demo.invalid", name)
        StaffPost.objects.create(user=user, school=school, role=role).classes.set(classes)
        made.append(user)
    return made[0], made[1]
