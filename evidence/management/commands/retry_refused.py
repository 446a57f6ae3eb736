"""Have pieces that were refused tried again, after a fault of ours was mended."""

from argparse import ArgumentParser
from typing import Any

from django.core.management.base import BaseCommand

from evidence.models import Piece


class Command(BaseCommand):
    """Put every refused piece whose original is still kept back in the row."""

    help = "Try refused pieces again. Their originals are kept for a week."

    def add_arguments(self, parser: ArgumentParser) -> None:
        """Take the ids of pieces; none means all."""
        parser.add_argument("piece", nargs="*", type=int, help="id of a piece, as in the log")

    def handle(self, *args: Any, **options: Any) -> None:
        """Do it; the next sweep sends them."""
        refused = Piece.objects.active().filter(state=Piece.State.REFUSED).exclude(original="")
        if options["piece"]:
            refused = refused.filter(pk__in=options["piece"])
        waiting = {"state": Piece.State.ARRIVED, "refusal": "", "leased_until": None}
        pieces = Piece.objects.filter(pk__in=list(refused.values_list("pk", flat=True)))
        count = pieces.update(**waiting, attempts=0, crashes=0)
        self.stdout.write(f"{count} pieces will be tried again within a minute.")
