"""Jobs about people: the mails that let somebody in, and forgetting what is kept no longer."""

import logging

from celery import shared_task
from django.contrib.sessions.models import Session
from django.utils import timezone

from portal.jobs.outbox import send_each
from portal.jobs.slots import alone
from portal.operations import clock
from portal.people import mails
from portal.people.families.models.invitations import ADDRESS_KEPT
from portal.people.models import (
    AddressNotice,
    Device,
    Event,
    Invitation,
    RosterRun,
    SignInAttempt,
    SignInCode,
    StaffPost,
)

log = logging.getLogger("portal.people")


@shared_task
def mail_sign_in_code(code_id: int) -> None:
    """Draw the secrets of one asked-for code and mail them; a second run finds it claimed."""
    send_each(SignInCode.objects.all(), [code_id], mails.sign_in_code)


@shared_task
def mail_invitation(invitation_id: int) -> None:
    """Draw the code of one invitation and mail it; a second run finds it claimed."""
    send_each(Invitation.objects.all(), [invitation_id], mails.invitation)


@shared_task
def mail_staff_link(post_id: int) -> None:
    """Mail the holder of one post what they need to come in; a second run finds it claimed."""
    send_each(StaffPost.objects.all(), [post_id], mails.to_staff)


@shared_task
def mail_address_notice(notice_id: int) -> None:
    """Tell one address that it opens an account no more; a second run finds it claimed."""
    send_each(AddressNotice.objects.all(), [notice_id], mails.address_changed)


@shared_task
def send_waiting_codes() -> None:
    """Mail the codes whose job was lost on the way, or for which the server was away."""
    send_each(SignInCode.objects.all(), SignInCode.objects.keys_to_send(), mails.sign_in_code)


@shared_task
@alone
def send_waiting_invitations() -> None:
    """Mail what lets in, or is known to no longer, whose job was lost or found no server."""
    invitations, posts = Invitation.objects.all(), StaffPost.objects.all()
    notices = AddressNotice.objects.all()
    send_each(invitations, invitations.keys_to_send(), mails.invitation)
    send_each(posts, posts.keys_to_send(), mails.to_staff)
    send_each(notices, notices.keys_to_send(), mails.address_changed)


@shared_task
@alone
def forget() -> None:
    """Delete what was kept for a time only, once that time is over."""
    now = timezone.now()
    if not clock.is_plausible(now):
        log.error("nothing is forgotten: the clock is in doubt, see manage.py doctor")
        return
    SignInCode.objects.filter(expires_at__lte=now).delete()
    AddressNotice.objects.done().delete()
    SignInAttempt.purge()
    Session.objects.filter(expire_date__lte=now).delete()
    Device.objects.gone().delete()
    RosterRun.objects.forget()
    Event.objects.purge()
    old = Invitation.objects.filter(expires_at__lte=now - ADDRESS_KEPT).exclude(email="")
    old.update(email="")
