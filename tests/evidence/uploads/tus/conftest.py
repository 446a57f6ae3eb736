"""A family at its phone, with a day set."""

import pytest
from django.test import Client

from portal.people.models import Child
from tests.evidence.builders import make_plan
from tests.village import Village


@pytest.fixture
def plan(village: Village):
    return make_plan(village.robins)


@pytest.fixture
def child(village: Village, plan) -> Child:
    return village.aisha


@pytest.fixture
def family(child: Child, signed_in) -> Client:
    return signed_in("family")
