"""Puts the village into DATA_DIR's database with a day set today, and lets people in.

Run as `python -m tests.faults.scene_to_send`; writes scene.json into DATA_DIR: the cookie of each
role's session, the children, the day; and the crowd, further homes as cookie and child.
"""

import json

import django

ROLES = ("family", "other family", "teacher")
CROWD = 20  # further homes, each with a child and an adult


def main() -> None:
    """Make the scene."""
    django.setup()
    from django.conf import settings
    from django.test import Client
    from django.utils import timezone

    from portal.people.models import Home, User
    from tests.evidence.builders import make_plan
    from tests.village import Village, make_adult, make_child

    def let_in(user: User) -> str:
        client = Client()
        client.force_login(user)
        return client.cookies[settings.SESSION_COOKIE_NAME].value

    village = Village.build()
    crowd = []
    for number in range(CROWD):
        child = make_child(village.robins, f"Child{number}", "X")
        home = Home.objects.create(school=village.school)
        crowd.append((let_in(make_adult(f"adult-{number}", home, [child])), child.pk))
    User.objects.update(email_confirmed_at=timezone.now())
    day = village.school.today()
    for school_class in (village.robins, village.wrens):
        make_plan(school_class, day)
    cookies = {role: let_in(village.people[role]) for role in ROLES}
    children = {each.first_name: each.pk for each in (village.aisha, village.ben, village.cal)}
    said = {"cookies": cookies, "children": children, "day": str(day), "crowd": crowd}
    (settings.DATA_DIR / "scene.json").write_text(json.dumps(said))


if __name__ == "__main__":
    main()
