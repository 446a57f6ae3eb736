"""A day that is set, and somebody who sends work for it."""

import pytest
from django.test import Client

from tasks.models import DayPlan
from tests.evidence.builders import make_plan
from tests.village import Village


@pytest.fixture
def plan(village: Village) -> DayPlan:
    """Set Monday for the class."""
    return make_plan(village.robins)


@pytest.fixture
def family(plan: DayPlan, signed_in) -> Client:
    """Come in as the family, once the day is set."""
    return signed_in("family")
