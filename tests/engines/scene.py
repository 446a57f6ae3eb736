"""Puts homes into DATA_DIR's database with a short day set today, for other engines to come in.

Run as `python -m tests.engines.scene`; writes scene.json into DATA_DIR: the day, and for each home
its child, a session's cookie of its adult and the letters of a slip for another adult.
"""

import json

import django

HOMES = 20
URDU = 2  # how many of them read Urdu: the last


def main() -> None:
    """Make the scene."""
    django.setup()
    from django.conf import settings
    from django.test import Client
    from django.utils import timezone

    from portal.people.models import Home, Invitation, User
    from tasks.models import DayPlan
    from tasks.plans.planning import Seen, draft_day
    from tasks.plans.prompt_selection import Choice
    from tests.tasks.builders import gone_out
    from tests.village import Village, make_adult, make_child

    village = Village.build()
    teacher = village.people["teacher"]
    homes = []
    for number in range(HOMES):
        child = make_child(village.robins, f"Child{number}", "X")
        home = Home.objects.create(school=village.school)
        homes.append((child, home, make_adult(f"adult-{number}", home, [child])))
    User.objects.filter(pk__in=[adult.pk for *_, adult in homes[-URDU:]]).update(language="ur")
    User.objects.update(email_confirmed_at=timezone.now())
    day = DayPlan(school_class=village.robins, date=village.school.today())
    choices = {
        "warm_up": Choice("counting-aloud-in-ones", 20, 1, "core"),
        "main_task": Choice("halving", 20, 1, "core"),
        "quick_recall": Choice("odd-or-even", 10, 1, "core"),
        "try_at_home": Choice("ordering", 10, 1, "core"),
    }
    draft_day(day, choices, Seen(0, teacher))
    gone_out(DayPlan.objects.get(date=day.date))

    def told(child, home, adult) -> dict:
        client = Client()
        client.force_login(adult)
        cookie = client.cookies[settings.SESSION_COOKIE_NAME].value
        return {
            "child": child.pk,
            "name": child.first_name,
            "cookie": cookie,
            "slip": Invitation.issue(child, home, teacher),
        }

    said = {"day": str(day.date), "homes": [told(*each) for each in homes]}
    (settings.DATA_DIR / "scene.json").write_text(json.dumps(said))


if __name__ == "__main__":
    main()
