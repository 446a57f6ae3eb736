"""Staff: added by mail, changed, and ended so that nothing opens from the next request on."""

from collections.abc import Iterable

from django.db import transaction
from django.utils import timezone

from portal.jobs.outbox import UNSENT
from portal.jobs.sending import sending
from portal.operations import erasure_list
from portal.people.accounts import second_step
from portal.people.jobs import mail_staff_link
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
    """Return *email* a post at *school*, with an account if it has none; mail how to come in.

    Somebody who holds that very post already keeps it, with the classes added. An account for
    which the address was merely typed is passed over. Whoever gets a post signs in again for it.
    """
    known = User.objects.proved(email).first() or User.objects.awaited(email).first()
    user = known or User.objects.create_user(email, name)
    if not user.is_active:
        user.is_active = True
        user.save(update_fields=["is_active"])
    post, made = StaffPost.objects.get_or_create(user=user, school=school, role=role, ended_at=None)
    post.classes.add(*classes)
    if made:
        user.end_sessions()
    if by_mail:
        want_link(post)
    return post


def want_link(post: StaffPost) -> None:
    """Have the holder of *post* mailed a link with which to set a password."""
    send_link(post.pk, by_holder=False)


def want_new_password(email: str) -> None:
    """Have *email* mailed a link that lasts an hour, if somebody works here under it.

    Every address takes the same steps, and so the same time.
    """
    users = User.objects.mailed_at([email]).filter(is_active=True)
    posts = StaffPost.objects.active().filter(user__in=users)
    send_link(posts.values_list("pk", flat=True).first() or 0, by_holder=True)


def send_link(pk: int, *, by_holder: bool) -> None:
    """Have the mail of post *pk* sent; of one that is not there, nothing comes."""
    wanted = {"link_wanted_at": timezone.now(), "link_by_holder": by_holder}
    StaffPost.objects.filter(pk=pk).update(**UNSENT, **wanted)
    transaction.on_commit(sending(mail_staff_link, pk))


@transaction.atomic
def change_post(post: StaffPost, *, role: str, classes: Iterable[SchoolClass]) -> None:
    """Change what the holder of *post* does. Raises LastLeadError or HeldAlreadyError.

    Another role is signed in for again.
    """
    same_role = post.user.posts.active().filter(school=post.school_id, role=role)
    if same_role.exclude(pk=post.pk).exists():
        raise HeldAlreadyError
    if post.role == StaffPost.Role.LEAD != role:
        keep_a_lead(post)
    if post.role != role:
        post.user.end_sessions()
    post.role = role
    post.save(update_fields=["role"])
    post.classes.set(classes)
    kept = list(post.classes.values_list("pk", flat=True))
    erasure_list.note_on_commit(
        "people.staffpost", post.pk, erasure_list.NARROWED, role=role, classes=kept
    )


@transaction.atomic
def end_post(post: StaffPost) -> None:
    """End *post* and its holder's sessions. Raises LastLeadError.

    Without another post the password and the second step go as well; an adult at home of the
    school stays one, and comes in by code.
    """
    if post.role == StaffPost.Role.LEAD:
        keep_a_lead(post)
    close_post(post)


def close_post(post: StaffPost) -> None:
    """End *post*, whether the school keeps a lead or not."""
    post.ended_at, post.link_wanted_at = timezone.now(), None
    post.save(update_fields=["ended_at", "link_wanted_at"])
    erasure_list.note_on_commit("people.staffpost", post.pk, erasure_list.ENDED)
    user = post.user
    if not user.posts.active().exists():
        user.set_unusable_password()
        user.save(update_fields=["password"])
        second_step.remove(user)
    user.end_sessions()


def keep_a_lead(post: StaffPost) -> None:
    """Raise LastLeadError if *post* is the school's last of a lead."""
    School.objects.select_for_update().get(pk=post.school_id)  # Two leads may end each other.
    leads = StaffPost.objects.active().filter(school=post.school_id, role=StaffPost.Role.LEAD)
    if not leads.exclude(pk=post.pk).exists():
        raise LastLeadError


def remove_second_step(post: StaffPost) -> bool:
    """Take the second step of the holder of *post* away, for a new phone; end their sessions.

    False, and nothing done, for somebody who works at another school as well.
    """
    if post.user.posts.active().exclude(school=post.school_id).exists():
        return False
    second_step.remove(post.user)
    post.user.end_sessions()
    return True
