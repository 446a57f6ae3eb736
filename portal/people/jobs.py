"""Jobs about people: the mails that let somebody in, and forgetting what is kept no longer."""

import logging
from collections.abc import Callable, Iterable

from celery import Task, shared_task
from django.contrib.sessions.models import Session
from django.utils import timezone

from portal.jobs.outbox import is_an_answer, is_for_good, send_each
from portal.jobs.sending import send, sending
from portal.jobs.slots import alone, mail_slot
from portal.operations import clock
from portal.people import mails
from portal.people.families.models.invitations import ADDRESS_KEPT
from portal.people.models import (
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
    """Draw the secrets of one asked-for code and mail them. A second run finds none to draw."""
    with mail_slot() as free:
        if free:
            mail_code(code_id)


@shared_task
def mail_invitation(invitation_id: int) -> None:
    """Draw the code of one invitation and mail it; a second run finds it claimed."""
    send_each(Invitation.objects.all(), [invitation_id], mails.invitation)


@shared_task
def mail_staff_link(post_id: int) -> None:
    """Mail the holder of one post what they need to come in; a second run finds it claimed."""
    send_each(StaffPost.objects.all(), [post_id], mails.to_staff)


@shared_task
def send_waiting_codes() -> None:
    """Mail the codes whose job was lost on the way, or for which the server was away."""
    waiting = SignInCode.objects.unmailed().filter(user__isnull=False)
    send_all(waiting.values_list("pk", flat=True), mail_code)


@shared_task
@alone
def send_waiting_invitations() -> None:
    """Mail the invitations and links whose job was lost, or for which the server was away."""
    invitations, posts = Invitation.objects.all(), StaffPost.objects.all()
    send_each(invitations, invitations.keys_to_send(), mails.invitation)
    send_each(posts, posts.keys_to_send(), mails.to_staff)


def send_all(waiting: Iterable[int], mail: Callable[[int], bool]) -> None:
    """Send the *waiting* mails one by one, until the server is found away."""
    with mail_slot() as free:
        if free:
            all(mail(pk) for pk in waiting)


def mail_code(code_id: int) -> bool:
    """Mail one code, if that is still to do; False when the mail server is away."""
    drawn = SignInCode.draw(code_id)
    code = SignInCode.objects.select_related("user").filter(pk=code_id).first()
    if drawn is None or code is None:
        return True
    try:
        mails.sign_in_code(code.user, code.new_email or code.user.email, drawn)
    except OSError as error:
        log.warning("the mail of code %s was not taken: %s", code_id, type(error).__name__)
        if not is_for_good(error):
            SignInCode.put_back(code_id)
        return is_an_answer(error)
    return True


@shared_task
@alone
def forget() -> None:
    """Delete what was kept for a time only, once that time is over."""
    now = timezone.now()
    if not clock.is_plausible(now):
        log.error("nothing is forgotten: the clock is in doubt, see manage.py doctor")
        return
    SignInCode.objects.filter(expires_at__lte=now).delete()
    SignInAttempt.purge()
    Session.objects.filter(expire_date__lte=now).delete()
    Device.objects.gone().delete()
    RosterRun.objects.forget()
    Event.objects.purge()
    old = Invitation.objects.filter(expires_at__lte=now - ADDRESS_KEPT).exclude(email="")
    old.update(email="")


def send_code_soon(code_id: int) -> None:
    """Have the mail with a code sent."""
    send(mail_sign_in_code, code_id)


def send_later(job: Task, pk: int) -> Callable[[], bool]:
    """Return what hands *job* for row *pk* over, for `transaction.on_commit`."""
    return sending(job, pk)
