"""What waits for the lead and the office of the invented school, and Friday's mails."""

import datetime as dt

from django.utils import timezone

from assessment.demo.people import Cast
from assessment.demo.story import MAIL_CAME_BACK, MOVED_HERE, SECOND_ADULT
from assessment.judgements.second_looks import draw_sample
from assessment.models import SummaryMail
from portal.demo.cast import CAST
from portal.people.models import Invitation, User

TO_LOOK_AT_AGAIN = 6
SINCE = dt.timedelta(days=1)


def leave_work(cast: Cast) -> None:
    """Leave the lead a sample to look at again, and the office its invitations."""
    draw_sample(cast.robins, cast.lead, TO_LOOK_AT_AGAIN, cast.lead)
    office = User.objects.proved("office@demo.invalid").get()
    Invitation.issue(cast.children[MOVED_HERE], cast.homes[MOVED_HERE], office)
    child, email = SECOND_ADULT
    asked = Invitation.ask_by_mail(cast.children[child], cast.homes[child], email, office)
    sent, came_back = timezone.now() - 2 * SINCE, timezone.now() - SINCE
    marks = {"mailed_at": sent, "mail_came_back_at": came_back}
    Invitation.objects.filter(pk=asked.pk).update(**marks)
    adult = cast.adults[cast.homes[MAIL_CAME_BACK].pk]
    User.objects.filter(pk=adult.pk).update(mail_came_back_at=came_back)


def let_mails_wait(week: dt.date) -> None:
    """Let the mails of the *week* (its Monday) wait for the worker: those to the cast, no other."""
    emails = [person.email for person in CAST]
    readers = User.objects.mailed_at(emails)
    theirs = SummaryMail.objects.filter(summary__week=week, recipient__in=readers)
    others = SummaryMail.objects.exclude(pk__in=theirs.values("pk"))
    others.update(mailed_at=timezone.now(), attempts=1)
