"""Holds, rules of keeping and their nights, copies to take along, and what families ask for."""

from portal.privacy.models.copies import Copy
from portal.privacy.models.holds import Hold
from portal.privacy.models.keeping import KeepingRule, Leaver, Night
from portal.privacy.models.wishes import Wish

__all__ = ["Copy", "Hold", "KeepingRule", "Leaver", "Night", "Wish"]
