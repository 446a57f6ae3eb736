"""Bring the clean copies of a portal that has just been given a bucket into it."""

from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError

from evidence.models import Rendition
from evidence.storage import store


class Command(BaseCommand):
    """Move each rendition from the folder into the bucket; run twice, it goes on where it was."""

    help = "After setting STORAGE_URL: move the pieces that lie in the folder into the bucket."

    def handle(self, *args: Any, **options: Any) -> None:
        """Do it, one file after the other."""
        if "renditions" not in settings.STORAGES:
            raise CommandError("Set STORAGE_URL first: it says which bucket.")
        moved = damaged = 0
        for name, sha256 in Rendition.objects.values_list("name", "sha256").iterator():
            path = store.path_of(name)
            try:
                if path.is_file():
                    store.shelve(path, name, sha256)
                    moved += 1
            except store.DamagedError:
                damaged += 1
        self.stdout.write(f"{moved} files moved. {damaged} are damaged and stay where they are.")
