"""What is taken from who is not signed in."""

import pytest
from django.test import Client

from portal.supervisor.whole import SMALL

pytestmark = [pytest.mark.django_db, pytest.mark.servers]


class Unread:
    """A body that must not be read."""

    def read(self, *_args: int) -> bytes:
        raise AssertionError("the body was read")

    readline = __iter__ = read


def posted(client: Client, path: str, length: int):
    """Say that a form of *length* bytes comes, and send nothing of it."""
    kind = "multipart/form-data; boundary=edge"
    return client.post(
        path,
        b"",
        content_type=kind,
        CONTENT_LENGTH=str(length),
        **{"wsgi.input": Unread()},
    )


@pytest.mark.parametrize("path", ["/sign-in/", "/sign-in/staff/"])
def test_a_strangers_large_body_is_refused_before_any_of_it_is_read(path):
    assert posted(Client(enforce_csrf_checks=True), path, SMALL + 1).status_code == 413


def test_a_large_form_of_a_session_that_has_ended_leads_to_the_door_unread():
    answer = posted(Client(enforce_csrf_checks=True), "/classes/", SMALL + 1)
    assert answer.status_code == 302
    assert answer.url.startswith("/sign-in/")


def test_a_large_form_of_somebody_signed_in_is_read(signed_in):
    assert posted(signed_in("family"), "/account/address/", SMALL + 1).status_code != 413
