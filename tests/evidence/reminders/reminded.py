"""What tests about reminders share: somebody who chose them, and the job."""

from django.core import mail
from django.utils import timezone

from evidence.jobs import send_reminders
from evidence.reminders.choices import Reminder
from portal.people.models import User
from tests.village import Village


def chosen(village: Village, role: str = "family", hour: int = 16, by_mail: bool = True) -> User:
    """Let *role* have chosen reminders, with an address that is confirmed."""
    user = village.people[role]
    user.email_confirmed_at = timezone.now()
    user.save()
    Reminder.objects.update_or_create(adult=user, defaults={"hour": hour, "by_mail": by_mail})
    return user


def mailed() -> list[str]:
    """Run the job, and give to whom mails have gone so far."""
    send_reminders()
    return [each.to[0] for each in mail.outbox]
