"""Puts the village into the database of a portal that is about to be started."""

import django
from django.utils import timezone

django.setup()

from portal.people.models import User  # noqa: E402 - needs Django to be set up
from tests.village import Village  # noqa: E402

if __name__ == "__main__":
    Village.build()
    User.objects.update(email_confirmed_at=timezone.now())
