"""Store the goals that are shipped with the portal."""

from typing import Any

from django.core.management.base import BaseCommand

from assessment.goals.goal_sets import load_frameworks


class Command(BaseCommand):
    help = "Bring the shipped goals in the database up to date. May be run at any time."

    def handle(self, *args: Any, **options: Any) -> None:
        for framework in load_frameworks():
            count = framework.goals.in_use().count()
            self.stdout.write(f"{framework.slug}: {count} goals in use")
