"""Holds, rules of keeping and their nights, copies to take along, and what families ask for."""

from portal.data_protection.data_export.models import DataExport
from portal.data_protection.data_requests import DataRequest
from portal.data_protection.legal_holds import LegalHold
from portal.data_protection.retention.models import Leaver, PurgeRun, RetentionRule

__all__ = ["DataExport", "DataRequest", "Leaver", "LegalHold", "PurgeRun", "RetentionRule"]
