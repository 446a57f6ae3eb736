"""What every test may ask for."""

import pytest
from django.test import Client

from tests.village import Village


@pytest.fixture
def village(db: None) -> Village:
    """Give a small invented school; see tests/village.py for who is whom."""
    return Village.build()


@pytest.fixture
def signed_in(village: Village):
    """Give a function that makes a browser signed in as one of the village's people."""

    def sign_in(role: str) -> Client:
        client = Client()
        if role != "visitor":
            client.force_login(village.people[role])
        return client

    return sign_in
