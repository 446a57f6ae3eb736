"""Jobs about people: the mails that let somebody in, and forgetting what is kept no longer."""

import logging
from collections.abc import Callable

from celery import Task, shared_task
from django.contrib.sessions.models import Session
from django.utils import timezone
from kombu.exceptions import OperationalError

from portal.people import mails
from portal.people.models import (
    Device,
    Event,
    Invitation,
    Knock,
    RosterRun,
    SignInCode,
    StaffPost,
)
from portal.people.models.invitations import ADDRESS_KEPT

log = logging.getLogger("portal.people")


@shared_task
def mail_sign_in_code(code_id: int) -> None:
    """Draw the secrets of one asked-for code and mail them. A second run finds none to draw."""
    drawn = SignInCode.draw(code_id)
    code = SignInCode.objects.select_related("user").filter(pk=code_id).first()
    if drawn is None or code is None:
        return
    try:
        mails.sign_in_code(code.user, code.new_email or code.user.email, drawn)
    except OSError:
        SignInCode.put_back(code_id)
        log.warning("the mail server is down: code %s waits", code_id)


@shared_task
def mail_invitation(invitation_id: int) -> None:
    """Draw the code of one invitation and mail it; a second run finds it claimed."""
    slip = Invitation.draw(invitation_id)
    if slip is None:
        return
    invitation = Invitation.objects.select_related("child__school").get(pk=invitation_id)
    claim = Invitation.objects.filter(
        pk=invitation_id, mail_claimed_at=invitation.mail_claimed_at, mailed_at=None
    )
    try:
        mails.invitation(invitation, slip)
    except OSError:
        claim.update(mail_claimed_at=None)
        log.warning("the mail server is down: invitation %s waits", invitation_id)
    else:
        claim.update(mailed_at=timezone.now())


@shared_task
def mail_staff_link(post_id: int) -> None:
    """Mail the holder of one post what they need to come in; a second run finds it claimed."""
    now = timezone.now()
    waiting = StaffPost.objects.without_mailed_link().filter(pk=post_id)
    if not waiting.update(link_claimed_at=now):
        return
    claim = StaffPost.objects.filter(pk=post_id, link_claimed_at=now)
    post = StaffPost.objects.select_related("user", "school").get(pk=post_id)
    try:
        if post.link_by_holder:
            mails.new_password(post.user)
        else:
            mails.staff_link(post)
    except OSError:
        claim.update(link_claimed_at=None)
        log.warning("the mail server is down: the link of post %s waits", post_id)
    else:
        claim.update(link_claimed_at=None, link_wanted_at=None)


@shared_task
def send_waiting_codes() -> None:
    """Mail the codes whose job was lost on the way."""
    waiting = SignInCode.objects.unmailed().filter(user__isnull=False)
    for code_id in waiting.values_list("pk", flat=True):
        mail_sign_in_code(code_id)


@shared_task
def send_waiting_invitations() -> None:
    """Mail the invitations and links whose job was lost on the way."""
    for invitation_id in Invitation.objects.unmailed().values_list("pk", flat=True):
        mail_invitation(invitation_id)
    for post_id in StaffPost.objects.without_mailed_link().values_list("pk", flat=True):
        mail_staff_link(post_id)


@shared_task
def forget() -> None:
    """Delete what is kept for a while only, and whose while is over."""
    now = timezone.now()
    SignInCode.objects.filter(expires_at__lte=now).delete()
    Knock.purge()
    Session.objects.filter(expire_date__lte=now).delete()
    Device.objects.gone().delete()
    RosterRun.objects.forget()
    Event.objects.purge()
    old = Invitation.objects.filter(expires_at__lte=now - ADDRESS_KEPT).exclude(email="")
    old.update(email="")


def send_soon(job: Task, pk: int) -> None:
    """Hand *job* for row *pk* to the queue; while that is down, the sweep will find the row."""
    try:
        job.delay(pk)
    except OperationalError:
        log.warning("the job queue is down: %s %s waits", job.name, pk)


def send_code_soon(code_id: int) -> None:
    """Have the mail with a code sent."""
    send_soon(mail_sign_in_code, code_id)


def send_later(job: Task, pk: int) -> Callable[[], None]:
    """Give what hands *job* for row *pk* to the queue, for `transaction.on_commit`."""
    return lambda: send_soon(job, pk)
