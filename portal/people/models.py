"""Who is here: schools, classes and staff; children and their homes; ways of coming in."""

from portal.people.accounts.models.address_notices import AddressNotice
from portal.people.accounts.models.devices import Device
from portal.people.accounts.models.recovery_codes import RecoveryCode
from portal.people.accounts.models.sign_in_attempts import SignInAttempt
from portal.people.accounts.models.sign_in_codes import SignInCode
from portal.people.accounts.models.users import User
from portal.people.audit.models import Event
from portal.people.families.models.consent import Consent, Purpose
from portal.people.families.models.homes import Child, Guardianship, Home
from portal.people.families.models.invitations import Invitation
from portal.people.roster_import.models import RosterHabits, RosterRun
from portal.people.school.models import Closure, Group, School, SchoolClass, SchoolYear, StaffPost

__all__ = [
    "AddressNotice",
    "Child",
    "Closure",
    "Consent",
    "Device",
    "Event",
    "Group",
    "Guardianship",
    "Home",
    "Invitation",
    "Purpose",
    "RecoveryCode",
    "RosterHabits",
    "RosterRun",
    "School",
    "SchoolClass",
    "SchoolYear",
    "SignInAttempt",
    "SignInCode",
    "StaffPost",
    "User",
]
