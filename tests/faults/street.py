"""Puts a street of homes into DATA_DIR's database, with a day set today, and lets everybody in.

Run as `python -m tests.faults.street`; writes street.json into DATA_DIR: the teacher's session, and
for each home its session and its child.
"""

import json

import django

HOMES = 40


def main() -> None:
    """Build the street."""
    django.setup()
    from django.conf import settings
    from django.test import Client
    from django.utils import timezone

    from portal.people.models import Home, User
    from tests.evidence.builders import make_plan
    from tests.village import Village, make_adult, make_child

    village = Village.build()
    day = village.school.today()
    make_plan(village.robins, day)
    homes = []
    for number in range(HOMES):
        child = make_child(village.robins, f"Child{number}", "K")
        home = Home.objects.create(school=village.school)
        homes.append((make_adult(f"home-{number}", home, [child]), child))
    User.objects.update(email_confirmed_at=timezone.now())

    def session(user: User) -> str:
        client = Client()
        client.force_login(user)
        return client.cookies[settings.SESSION_COOKIE_NAME].value

    told = {
        "day": str(day),
        "teacher": session(village.people["teacher"]),
        "homes": [{"session": session(user), "child": child.pk} for user, child in homes],
    }
    (settings.DATA_DIR / "street.json").write_text(json.dumps(told))


if __name__ == "__main__":
    main()
