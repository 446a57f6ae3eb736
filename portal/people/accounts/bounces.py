"""Mail that comes back: whose address it was, and what the office is told.

Source: RFC 3464, sections 2.1 to 2.3: a part of type message/delivery-status holds one group of
fields for the message, and one for each recipient.
"""

import re
from collections.abc import Iterator
from email import message_from_bytes
from email.message import EmailMessage, Message
from email.policy import default

from django.utils import timezone

from portal.people.models import Invitation, User

FAILED = "failed"
COMMENT = re.compile(r"\([^()]*\)")


def failed_addresses(raw: bytes) -> set[str]:
    """Return the addresses that a delivery status says it gave up on; none for any other mail.

    Anybody can send such a mail, so it ends nothing: it is told to the office, and the weekly mail
    waits until the person comes in by a code that was sent to that address.
    """
    return {User.normalise(each) for each in recipients(message_from_bytes(raw, policy=default))}


def recipients(mail: EmailMessage) -> Iterator[str]:
    """Yield the recipients in *mail* whose delivery failed for good."""
    for part in mail.walk():
        if part.get_content_type() != "message/delivery-status":
            continue
        for group in part.iter_parts():
            if bare(group.get("Action")) == FAILED:
                # What we sent it to comes first: a forwarding server's own name is not known here.
                yield from address_in(group, "Original-Recipient")
                yield from address_in(group, "Final-Recipient")


def address_in(group: Message, name: str) -> Iterator[str]:
    """Yield the address in the field *name*: "rfc822; somebody@example.org"."""
    kind, _semicolon, address = bare(group.get(name)).partition(";")
    if kind.strip() == "rfc822" and "@" in address:
        yield address.strip()


def bare(value: object) -> str:
    """Return the text of a field in small letters, without the comments that may stand in it."""
    return COMMENT.sub("", str(value or "")).strip().lower()


def note_bounce(raw: bytes) -> int:
    """Mark accounts and open invitations whose mail came back in *raw*; give how many."""
    addresses, now = failed_addresses(raw), timezone.now()
    users = User.objects.mailed_at(addresses).filter(mail_came_back_at=None)
    mailed = Invitation.objects.active().filter(email__in=addresses, mailed_at__isnull=False)
    invitations = mailed.filter(mail_came_back_at=None)
    marked: int = users.update(mail_came_back_at=now) + invitations.update(mail_came_back_at=now)
    return marked


def note_reached(user: User) -> None:
    """Forget that mail came back: what was sent to *user* has arrived."""
    User.objects.filter(pk=user.pk).exclude(mail_came_back_at=None).update(mail_came_back_at=None)
