"""Jobs about people: the mails that let somebody in."""

import logging

from celery import shared_task
from django.core.mail import send_mail
from django.utils import timezone, translation
from django.utils.translation import gettext as _
from kombu.exceptions import OperationalError

from portal.people.models import SignInCode

log = logging.getLogger("portal.people")


@shared_task
def mail_sign_in_code(code_id: int) -> None:
    """Draw the digits of one asked-for code and mail them. A second run finds nothing to draw."""
    digits = SignInCode.draw(code_id)
    if digits is None:
        return
    user = SignInCode.objects.select_related("user").get(pk=code_id).user
    with translation.override(user.language):
        words = _(
            "Your code is %(code)s\n\n"
            "Type it on the page where you asked for it, within 10 minutes.\n"
            "If you did not ask, do nothing: nobody can come in without this mail."
        )
        # Digits in the subject would show on a locked phone.
        send_mail(_("Your sign-in code"), words % {"code": digits}, None, [user.email])
    log.info("sign-in code sent to account %s", user.pk)


@shared_task
def send_waiting_codes() -> None:
    """Mail the codes whose job was lost on the way."""
    waiting = SignInCode.objects.filter(code_hash="", expires_at__gt=timezone.now())
    for code_id in waiting.values_list("pk", flat=True):
        mail_sign_in_code(code_id)


def send_code_soon(code_id: int) -> None:
    """Hand the mail to the job queue; while that is down, `send_waiting_codes` will find it."""
    try:
        mail_sign_in_code.delay(code_id)
    except OperationalError:
        log.warning("the job queue is down: code %s waits", code_id)
