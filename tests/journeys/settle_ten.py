"""Puts ten pieces of work that wait for a look into the second class of a running portal."""

import datetime as dt

import django
from django.utils import timezone

django.setup()

from assessment.looks.phrases import keep_starters  # noqa: E402 - needs Django to be set up
from portal.people.models import Home, SchoolClass, User  # noqa: E402
from tests.assessment.builders import goal, send, set_day  # noqa: E402
from tests.evidence.builders import jpeg, make_ready_piece  # noqa: E402
from tests.village import make_child  # noqa: E402

NAMES = ("Ada", "Bea", "Cem", "Dan", "Eli", "Fay", "Gus", "Hal", "Ivo", "Jun")

if __name__ == "__main__":
    wrens, home = SchoolClass.objects.get(name="Wrens"), Home.objects.first()
    goal()
    keep_starters(User.objects.get(email="other-teacher@example.org"))
    plan = set_day(wrens, wrens.school.today())
    begun = timezone.now() - dt.timedelta(hours=1)
    for number, name in enumerate(NAMES):
        child = make_child(wrens, name, "Q")
        work = send(
            child,
            home,
            plan,
            answers="doubled" if number % 3 == 2 else "right",
            help="alone",
            sent_at=begun + dt.timedelta(minutes=number),
        )
        make_ready_piece(work, jpeg(size=(1600, 1200)))
