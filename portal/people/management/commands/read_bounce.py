"""Read a mail that came back, so that the office learns whose address cannot be reached."""

import sys
from typing import Any

from django.core.management.base import BaseCommand

from portal.people.accounts.bounces import note_bounce

MOST = 2_000_000  # bytes; what is longer is no delivery status


class Command(BaseCommand):
    help = (
        "Read a returned mail (RFC 3464) on standard input and mark its address as not reachable. "
        "For the mail server to pipe into; it always ends well, so that nothing bounces again."
    )

    def handle(self, *args: Any, **options: Any) -> None:
        marked = note_bounce(sys.stdin.buffer.read(MOST))
        # How many, and never whose: a mail server keeps what is said here in its log.
        self.stdout.write(f"{marked} marked.")
