"""Holds, rules of keeping and their nights, copies to take along, and what families ask for."""

from portal.data_protection.data_export.models import Copy
from portal.data_protection.data_requests import Wish
from portal.data_protection.legal_holds import Hold
from portal.data_protection.retention.models import KeepingRule, Leaver, Night

__all__ = ["Copy", "Hold", "KeepingRule", "Leaver", "Night", "Wish"]
