"""A family at its phone, with a day set."""

import pytest

from portal.people.models import Child
from tests.village import Village


@pytest.fixture
def child(village: Village, plan) -> Child:
    return village.aisha
