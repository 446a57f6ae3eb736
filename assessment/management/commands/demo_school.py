"""Make the invented school of the demo, once."""

from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError
from django.db import transaction
from django.utils import timezone

from assessment.demo.people import make_people
from assessment.demo.plans import make_plans
from assessment.demo.work import make_work
from assessment.phrases import keep_starters
from portal.people.models import School


class Command(BaseCommand):
    help = "Make the invented school of the demo; where it is there already, do nothing."

    def handle(self, *args: Any, **options: Any) -> None:
        mark = settings.DATA_DIR / "demo-school"
        if School.objects.exists():
            if not mark.exists():
                raise CommandError("This data belongs to a real school: use another --data.")
            return
        mark.touch()  # Before the school, so that `serve` never takes invented data for real.
        self.stdout.write("Inviting an invented class of thirty ...")
        self.stdout.flush()
        now = timezone.now()
        with transaction.atomic():
            today = timezone.localtime(now).date()
            cast = make_people(today)
            plans = make_plans(cast, today)
            make_work(cast, plans, now)
            keep_starters(cast.teacher)
