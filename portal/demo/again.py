"""Giving the invented school back as it was, for today."""

import fcntl

from django.conf import settings
from django.core.management import call_command


class BeingMadeError(Exception):
    """Somebody else has it made at this moment."""


def start_again() -> None:
    """Make the invented school again, in place of the one there is.

    Raises BeingMadeError, and CommandError where this is no demo.
    """
    with (settings.DATA_DIR / "demo-being-made").open("a") as lock:
        try:
            fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError as error:
            raise BeingMadeError from error
        call_command("demo_school", "--again")
