"""Mails that let somebody in. None names a child.

No subject says what is inside, but for an invitation's: it names the school and the teacher, or
nobody would trust it.
"""

from django.conf import settings
from django.core.mail import EmailMessage
from django.urls import reverse
from django.utils import translation
from django.utils.formats import date_format
from django.utils.translation import gettext as _

from portal.people.accounts.password_reset import password_link
from portal.people.families.invitation_slips import slip_address
from portal.people.languages import known
from portal.people.models import AddressNotice, Child, Invitation, SignInCode, StaffPost, User
from portal.translation.languages import ENGLISH


def sign_in_code(code: SignInCode) -> EmailMessage:
    """Put a code into words: digits and a link, which are drawn for this mail."""
    drawn = code.draw()
    words = {
        "code": drawn.digits,
        # What stands behind the # is sent to no server, not even when a scanner opens the link.
        "link": f"{settings.SITE_URL}{reverse('people:link')}#{drawn.link}",
    }
    with translation.override(code.user.language):
        text = _(
            "Your code is %(code)s\n\n"
            "Type it on the page where you asked for it, within 10 minutes.\n\n"
            "Or open this link on the phone or computer where you asked, and press the button "
            "there:\n%(link)s\n\n"
            "If you did not ask, do nothing: nobody can come in without this mail."
        )
        # Digits in the subject would show on a locked phone.
        return EmailMessage(_("Your sign-in code"), text % words, to=[code.address])


def invitation(asked: Invitation) -> EmailMessage:
    """Put an invitation into words, with a code that is drawn for this mail."""
    slip = asked.draw()
    words = {"link": slip_address(slip), "letters": slip, "school": asked.child.school.name}
    words["page"] = words["link"].split("#")[0]
    with translation.override(known(asked.language) or ENGLISH):
        words["until"] = date_format(asked.expires_at.astimezone(asked.child.school.zone), "j E Y")
        text = _(
            "Hello,\n\n"
            "Open this link to come in:\n%(link)s\n\n"
            "Or open %(page)s and type these letters: %(letters)s\n\n"
            "It leads to short number work to do at home, set by %(school)s.\n"
            "The link works once, until %(until)s, for you alone: do not pass it on.\n"
            "If you have no child at this school, do nothing and tell the school."
        )
        subject = f"{_('An invitation')}: {', '.join(inviting(asked.child))}"
        return EmailMessage(subject, text % words, to=[asked.email])


def inviting(child: Child) -> list[str]:
    """Name who invites to *child*: the school, and the teachers of the class."""
    posts = StaffPost.objects.active().filter(role=StaffPost.Role.TEACHER)
    teachers = posts.filter(classes=child.school_class_id).order_by("pk")
    return [child.school.name, *teachers.values_list("user__name", flat=True)]


def to_staff(post: StaffPost) -> EmailMessage:
    """Put into words what the holder of *post* waits for."""
    return new_password(post.user) if post.link_by_holder else staff_link(post)


def staff_link(post: StaffPost) -> EmailMessage:
    """Tell the holder of *post* how to come in."""
    with translation.override(post.user.language):
        text = _(
            "Hello,\n\n"
            "Set your password here, within 7 days:\n"
            "%(link)s\n\n"
            "You have been added at %(school)s: %(role)s. If you already have a password here, you "
            "can keep using it.\n"
            "If you do not work there, do nothing and tell the school."
        )
        words = {
            "link": password_link(post.user),
            "school": post.school.name,
            "role": post.get_role_display(),
        }
        return EmailMessage(_("Your account"), text % words, to=[post.user.email])


def address_changed(notice: AddressNotice) -> EmailMessage:
    """Tell the address of before that it no longer opens anything."""
    with translation.override(notice.user.language):
        text = _(
            "The e-mail address of your account was changed. Codes go to the new address now.\n\n"
            "If that was not you, tell the school at once."
        )
        return EmailMessage(_("Your address was changed"), text, to=[notice.email])


def new_password(user: User) -> EmailMessage:
    """Tell *user* how to set another password."""
    with translation.override(user.language):
        text = _(
            "Hello,\n\n"
            "Set a new password here, within an hour:\n"
            "%(link)s\n\n"
            "Your sign-in code app stays as it is.\n\n"
            "If you did not ask, do nothing: your password stays, and nobody can come in without "
            "this mail."
        )
        words = {"link": password_link(user, asked_for=True)}
        return EmailMessage(_("Your account"), text % words, to=[user.email])
