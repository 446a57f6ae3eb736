"""Whose an address is: shown by what was mailed there, and by nothing else."""

from django.db import IntegrityError, transaction
from django.utils import timezone

from portal.people.accounts.staff import want_link
from portal.people.models import StaffPost, User


class TakenError(Exception):
    """The address was proved to be somebody else's."""


@transaction.atomic
def prove(user: User, email: str) -> None:
    """Make *email*, at which *user* has just read a mail, the proved address of *user*.

    Whoever else had typed it keeps what they have, without the address. Posts that a lead made for
    it come to *user*, whose sessions end then. Raises TakenError.
    """
    user.email, user.email_confirmed_at = User.normalise(email), timezone.now()
    user.mail_came_back_at = None
    try:
        with transaction.atomic():
            user.save(update_fields=["email", "email_confirmed_at", "mail_came_back_at"])
    except IntegrityError as error:
        user.refresh_from_db()
        raise TakenError from error
    claims = User.objects.claiming(user.email).exclude(pk=user.pk)
    for post in StaffPost.objects.active().filter(user__in=claims).order_by("pk"):
        hand_over(post, user)
    claims.filter(posts=None, guardianships=None).delete()
    claims.update(email="")


def hand_over(post: StaffPost, user: User) -> None:
    """Give *post*, whose holder never came in, to *user*, with a mail to set a password."""
    own = user.posts.active().filter(school=post.school_id, role=post.role).first()
    if own is None:
        own, post.user = post, user
        post.save(update_fields=["user"])
    else:
        own.classes.add(*post.classes.all())
        post.ended_at, post.link_wanted_at = timezone.now(), None
        post.save(update_fields=["ended_at", "link_wanted_at"])
    user.__dict__.pop("posts_held", None)
    user.end_sessions()
    want_link(own)


@transaction.atomic
def set_password(user: User) -> None:
    """Note that *user*, whose password was set by a mailed link, owns the address; end sessions.

    Raises TakenError.
    """
    prove(user, user.email)
    user.end_sessions()
