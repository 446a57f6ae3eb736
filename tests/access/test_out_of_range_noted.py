"""What goes beyond what can be is written down, where an operator reads it."""

import pytest
from django.db import DataError
from django.urls import reverse

pytestmark = [pytest.mark.django_db, pytest.mark.servers]


@pytest.mark.parametrize("error", [OverflowError("too large"), DataError("out of range")])
def test_what_goes_beyond_in_the_middle_of_a_page_is_a_404_and_noted(
    village, signed_in, monkeypatch, caplog, error
):
    def broken(*_args, **_more):
        raise error

    monkeypatch.setattr("portal.people.school.views.classes.render", broken)
    assert signed_in("lead").get(reverse("people:classes")).status_code == 404
    assert "beyond what can be" in caplog.text
