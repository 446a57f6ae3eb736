"""What waits for the lead and the office of the invented school, and Friday's mails."""

import datetime as dt

from django.core.mail import get_connection
from django.utils import timezone

from assessment.demo.people import Cast
from assessment.demo.story import MAIL_CAME_BACK, MOVED_HERE, SECOND_ADULT
from assessment.judging.second_looks import draw_sample
from assessment.mails import send
from assessment.models import SummaryMail
from portal.demo.cast import CAST
from portal.people.models import Invitation, User

TO_LOOK_AT_AGAIN = 6
SINCE = dt.timedelta(days=1)


def leave_work(cast: Cast) -> None:
    """Leave the lead a sample to look at again, and the office its invitations."""
    draw_sample(cast.robins, cast.lead, TO_LOOK_AT_AGAIN, cast.lead)
    office = User.objects.get(email="office@demo.invalid")
    Invitation.issue(cast.children[MOVED_HERE], cast.homes[MOVED_HERE], office)
    child, email = SECOND_ADULT
    asked = Invitation.ask_by_mail(cast.children[child], cast.homes[child], email, office)
    sent, came_back = timezone.now() - 2 * SINCE, timezone.now() - SINCE
    marks = {"mailed_at": sent, "mail_claimed_at": sent, "mail_came_back_at": came_back}
    Invitation.objects.filter(pk=asked.pk).update(**marks)
    adult = cast.adults[cast.homes[MAIL_CAME_BACK].pk]
    User.objects.filter(pk=adult.pk).update(mail_came_back_at=came_back)


def mail_the_cast(week: dt.date) -> None:
    """Send the mails of the *week* (its Monday) to whom visitors come in as; no other waits."""
    of_week = SummaryMail.objects.filter(sent_at=None, summary__week=week)
    theirs = of_week.filter(recipient__email__in=[person.email for person in CAST])
    waiting = list(theirs.order_by("pk").values_list("pk", "attempts"))
    others = SummaryMail.objects.filter(sent_at=None).exclude(pk__in=[pk for pk, _n in waiting])
    others.update(sent_at=timezone.now(), attempts=1)
    connection = get_connection(aloud=False)  # What each says stands on the page of mails.
    for pk, attempts in waiting:
        send(pk, attempts, connection)
