"""Shortcuts of tests: somebody has proved an address, or has just signed in."""

from django.test import Client
from django.utils import timezone

from portal.people.accounts.reauthentication import FRESH
from portal.people.models import User


def prove(*users: User) -> None:
    """Take the addresses of *users* for proved."""
    for user in users:
        user.email_confirmed_at = timezone.now()
        user.save(update_fields=["email_confirmed_at"])


def freshen(client: Client) -> Client:
    """Let *client* be one that has signed in just now."""
    session = client.session
    session[FRESH] = int(timezone.now().timestamp())
    session.save()
    return client
