"""How long what concerns people is kept: RETENTION, the table for portal.data_protection."""

import datetime as dt

from django.db.models import Max, QuerySet
from django.utils.translation import gettext_lazy as _

from portal.data_protection.hooks import Kept, delete_rows
from portal.people.accounts.models.sign_in_attempts import KEPT as KNOCKS_KEPT
from portal.people.accounts.models.sign_in_codes import CODE_LIFE
from portal.people.accounts.sessions import FAMILY, STAFF
from portal.people.audit.models import KEPT as EVENTS_KEPT
from portal.people.families.models.invitations import (
    ADDRESS_KEPT,
    INVITATION_LIFE,
    LONGEST_LIFE,
    OPEN_RULE,
)
from portal.people.models import Guardianship, Invitation, School, StaffPost, User
from portal.people.roster_import.models import DRAFT_LIFE, UNDO_LIFE

YEAR = dt.timedelta(days=365)


def past_invitations(
    school: School, length: dt.timedelta, now: dt.datetime
) -> QuerySet[Invitation]:
    """Return the invitations that ran out *length* ago."""
    return Invitation.objects.filter(child__school=school, expires_at__lt=now - length)


def accounts_without_child(
    school: School, length: dt.timedelta, now: dt.datetime
) -> QuerySet[User]:
    """Return the accounts of adults who have been at home with no child for *length*."""
    at_home = Guardianship.objects.current().values("adult")
    last = User.objects.annotate(last_end=Max("guardianships__ended_at"))
    return last.filter(
        guardianships__child__school=school, posts=None, last_end__lt=now - length
    ).exclude(pk__in=at_home)


def accounts_without_post(school: School, length: dt.timedelta, now: dt.datetime) -> QuerySet[User]:
    """Give the accounts of staff whose last post ended *length* ago; no parents of the school."""
    working = StaffPost.objects.active().values("user")
    last = User.objects.annotate(last_end=Max("posts__ended_at"))
    gone = last.filter(posts__school=school, guardianships=None, last_end__lt=now - length)
    return gone.exclude(pk__in=working)


def delete_accounts(accounts: QuerySet[User]) -> int:
    """Delete *accounts*; what they did stays in the log by number, for as long as that is kept."""
    return delete_rows(User.objects.filter(pk__in=list(accounts.values_list("pk", flat=True))))


RETENTION = (
    Kept(
        "log",
        _("Who came in, and who looked at what"),
        _("after it happened"),
        EVENTS_KEPT,
        for_families=True,
    ),
    Kept(
        "accounts at home",
        _("Accounts of adults at home"),
        _("after they were last at home with a child here"),
        dt.timedelta(days=90),
        due=accounts_without_child,
        delete=delete_accounts,
        least=dt.timedelta(days=1),
        most=2 * YEAR,
        for_families=True,
    ),
    Kept(
        "accounts of staff",
        _("Accounts of staff"),
        _("after they left"),
        YEAR,
        due=accounts_without_post,
        delete=delete_accounts,
        least=dt.timedelta(days=1),
        most=2 * YEAR,
    ),
    Kept(
        OPEN_RULE,
        _("Invitations, before they run out"),
        _("after they were made"),
        INVITATION_LIFE,
        least=dt.timedelta(days=1),
        most=LONGEST_LIFE,
    ),
    Kept(
        "invitation addresses",
        _("E-mail addresses that were invited and never came"),
        _("after the invitation ran out"),
        ADDRESS_KEPT,
        for_families=True,
    ),
    Kept(
        "invitations",
        _("That somebody was invited, without the address"),
        _("after the invitation ran out"),
        YEAR,
        due=past_invitations,
    ),
    Kept(
        "roster files",
        _("A roster file that was not run"),
        _("after it was brought in"),
        DRAFT_LIFE,
    ),
    Kept(
        "roster changes",
        _("What a roster file changed, so that it can be undone"),
        _("after it was run"),
        UNDO_LIFE,
    ),
    Kept(
        "codes",
        _("Codes and links to sign in"),
        _("after they were asked for"),
        CODE_LIFE,
        for_families=True,
    ),
    Kept(
        "knocks",
        _("How often a place asked for a code, with the place made unreadable"),
        _("after it asked"),
        KNOCKS_KEPT,
    ),
    Kept(
        "staff sessions",
        _("That a member of staff is signed in"),
        _("after they last came in"),
        STAFF.away,
    ),
    Kept(
        "family sessions",
        _("That an adult at home is signed in"),
        _("after they last came in"),
        FAMILY.away,
        for_families=True,
    ),
)
