"""Who is here: schools, classes and staff; children and their homes; ways of coming in."""

from portal.people.models.accounts import User
from portal.people.models.families import Child, Guardianship, Home
from portal.people.models.schools import (
    Closure,
    Group,
    School,
    SchoolClass,
    SchoolYear,
    StaffPost,
)
from portal.people.models.sign_in import Invitation, SignInCode

__all__ = [
    "Child",
    "Closure",
    "Group",
    "Guardianship",
    "Home",
    "Invitation",
    "School",
    "SchoolClass",
    "SchoolYear",
    "SignInCode",
    "StaffPost",
    "User",
]
