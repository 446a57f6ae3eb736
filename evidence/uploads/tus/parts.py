"""The submission that a form goes into, also when it was looked at before all of it had come."""

from collections.abc import Iterator
from dataclasses import replace

from django.utils.translation import gettext as _

from evidence.models import Submission
from evidence.submissions.permissions import Sender, key_for
from evidence.uploads import arrivals
from evidence.uploads.arrivals import TooLateError

# A form whose submission is looked at while its last pieces are on their way goes on in another.
MOST_PARTS = 8


def open_submission(sender: Sender, adds_to: int | None = None) -> Submission:
    """Return the submission that *sender*'s form goes into, held until the transaction ends.

    When it was looked at or taken back meanwhile, that is a new one. Raises TooLateError.
    """
    if adds_to:
        try:
            return arrivals.reopened(adds_to)
        except TooLateError:
            pass
    for each in parts_of(sender):
        try:
            return arrivals.opened(each)
        except TooLateError:
            continue
    raise TooLateError(_("This has been looked at too often to add to it. Send it again."))


def parts_of(sender: Sender) -> Iterator[Sender]:
    """Yield *sender* with the key of the form, and then with those of its later parts."""
    yield sender
    for number in range(2, MOST_PARTS + 1):
        yield replace(sender, form_key=key_for(sender.form_key, f"part {number}"))
