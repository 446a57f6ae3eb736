"""Puts the village into DATA_DIR's database with a day set today, and lets people in.

Run as `python -m tests.faults.scene_to_send`; writes scene.json into DATA_DIR: the cookie of each
role's session, the children, and the day.
"""

import json

import django

ROLES = ("family", "other family", "teacher")


def main() -> None:
    """Make the scene."""
    django.setup()
    from django.conf import settings
    from django.test import Client
    from django.utils import timezone

    from portal.people.models import User
    from tests.evidence.builders import make_plan
    from tests.village import Village

    village = Village.build()
    User.objects.update(email_confirmed_at=timezone.now())
    day = village.school.today()
    for school_class in (village.robins, village.wrens):
        make_plan(school_class, day)
    cookies = {}
    for role in ROLES:
        client = Client()
        client.force_login(village.people[role])
        cookies[role] = client.cookies[settings.SESSION_COOKIE_NAME].value
    children = {each.first_name: each.pk for each in (village.aisha, village.ben, village.cal)}
    said = {"cookies": cookies, "children": children, "day": str(day)}
    (settings.DATA_DIR / "scene.json").write_text(json.dumps(said))


if __name__ == "__main__":
    main()
