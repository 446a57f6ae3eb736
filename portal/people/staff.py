"""Staff: added by mail, changed, and ended so that nothing opens from the next request on."""

from collections.abc import Iterable

from django.contrib.auth.tokens import default_token_generator
from django.db import transaction
from django.utils import timezone
from django.utils.http import urlsafe_base64_decode

from portal.people import second_step
from portal.people.jobs import mail_staff_link, send_later
from portal.people.models import School, SchoolClass, StaffPost, User


class LastLeadError(Exception):
    """A school must keep a lead: nobody could let another in."""


class HeldAlreadyError(Exception):
    """The same person holds a post of that kind already."""


@transaction.atomic
def add_post(
    school: School,
    *,
    email: str,
    name: str,
    role: str,
    classes: Iterable[SchoolClass],
    by_mail: bool = True,
) -> StaffPost:
    """Give *email* a post at *school*, with an account if it has none; mail how to come in.

    Somebody who holds that very post already keeps it, with the classes added.
    """
    email = User.normalise(email)
    user = User.objects.filter(email=email).first() or User.objects.create_user(email, name)
    if not user.is_active:
        user.is_active = True
        user.save(update_fields=["is_active"])
    post, _made = StaffPost.objects.get_or_create(
        user=user, school=school, role=role, ended_at=None
    )
    post.classes.add(*classes)
    if by_mail:
        want_link(post)
    return post


def want_link(post: StaffPost) -> None:
    """Have the holder of *post* mailed a link with which to set a password."""
    StaffPost.objects.filter(pk=post.pk).update(link_wanted_at=timezone.now(), link_claimed_at=None)
    transaction.on_commit(send_later(mail_staff_link, post.pk))


@transaction.atomic
def change_post(post: StaffPost, *, role: str, classes: Iterable[SchoolClass]) -> None:
    """Change what the holder of *post* does. Raises LastLeadError or HeldAlreadyError."""
    held = post.user.posts.current().filter(school=post.school_id, role=role)
    if held.exclude(pk=post.pk).exists():
        raise HeldAlreadyError
    if post.role == StaffPost.Role.LEAD != role:
        keep_a_lead(post)
    post.role = role
    post.save(update_fields=["role"])
    post.classes.set(classes)


@transaction.atomic
def end_post(post: StaffPost) -> None:
    """End *post* and its holder's sessions. Raises LastLeadError.

    Without another post the password and the second step go as well; an adult at home of the
    school stays one, and comes in by code.
    """
    if post.role == StaffPost.Role.LEAD:
        keep_a_lead(post)
    post.ended_at, post.link_wanted_at = timezone.now(), None
    post.save(update_fields=["ended_at", "link_wanted_at"])
    user = post.user
    if not user.posts.current().exists():
        user.set_unusable_password()
        user.save(update_fields=["password"])
        second_step.remove(user)
    user.devices.end()


def keep_a_lead(post: StaffPost) -> None:
    """Raise LastLeadError if *post* is the school's last of a lead."""
    School.objects.select_for_update().get(pk=post.school_id)  # Two leads may end each other.
    leads = StaffPost.objects.current().filter(school=post.school_id, role=StaffPost.Role.LEAD)
    if not leads.exclude(pk=post.pk).exists():
        raise LastLeadError


def remove_second_step(post: StaffPost) -> bool:
    """Take the second step of the holder of *post* away, for a new phone; end their sessions.

    False, and nothing done, for somebody who works at another school as well.
    """
    if post.user.posts.current().exclude(school=post.school_id).exists():
        return False
    second_step.remove(post.user)
    post.user.devices.end()
    return True


def user_of_link(key: str) -> User | None:
    """Give the account whose password the link with *key* may set; None: used, old or wrong."""
    who, _dot, token = key.partition(".")
    try:
        pk = int(urlsafe_base64_decode(who))
    except ValueError:
        return None
    user = User.objects.filter(pk=pk, is_active=True).first()
    if user is None or not user.has_post or not default_token_generator.check_token(user, token):
        return None
    return user


def set_password(user: User) -> None:
    """Note that *user*, whose password was set by a mailed link, owns the address; end sessions."""
    if user.email_confirmed_at is None:
        user.email_confirmed_at = timezone.now()
        user.save(update_fields=["email_confirmed_at"])
    user.devices.end()
