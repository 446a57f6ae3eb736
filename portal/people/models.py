"""Who is here: schools, classes and staff; children and their homes; ways of coming in."""

from portal.people.models.accounts import User
from portal.people.models.audit import Event
from portal.people.models.consent import Consent, Purpose
from portal.people.models.devices import Device
from portal.people.models.families import Child, Guardianship, Home
from portal.people.models.invitations import Invitation
from portal.people.models.knocks import Knock
from portal.people.models.rosters import RosterHabits, RosterRun
from portal.people.models.schools import (
    Closure,
    Group,
    School,
    SchoolClass,
    SchoolYear,
    StaffPost,
)
from portal.people.models.second_step import RecoveryCode
from portal.people.models.sign_in import SignInCode

__all__ = [
    "Child",
    "Closure",
    "Consent",
    "Device",
    "Event",
    "Group",
    "Guardianship",
    "Home",
    "Invitation",
    "Knock",
    "Purpose",
    "RecoveryCode",
    "RosterHabits",
    "RosterRun",
    "School",
    "SchoolClass",
    "SchoolYear",
    "SignInCode",
    "StaffPost",
    "User",
]
