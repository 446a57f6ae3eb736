"""What must not come back to life with a restored database: ways in that were closed since."""

from collections.abc import Iterator

from django.contrib.sessions.models import Session

from portal.people.models import Device, Invitation, SignInCode, StaffPost
from portal.upkeep.hooks import Restored


def close_ways_in(restored: Restored) -> Iterator[str]:
    """Sign everybody out, end open invitations and codes, and have no mail of before sent."""
    Session.objects.all().delete()
    Device.objects.all().delete()
    yield "Everybody is signed out."
    codes = SignInCode.objects.all().delete()[0]
    ended = Invitation.objects.standing().revoke()
    links = StaffPost.objects.filter(link_wanted_at__isnull=False).update(
        link_wanted_at=None, link_claimed_at=None
    )
    yield f"{ended} open invitations are ended, and {codes + links} mails to sign in not sent."
    since = f"{restored.taken_at:%d %B %Y, %H:%M}"
    yield (
        f"An adult or member of staff whose access was ended after {since} UTC has it again: "
        "have the office and the lead go through their lists."
    )
