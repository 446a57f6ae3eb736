"""The homes of one child: who has come in there, who is invited, and ending either."""

from typing import NamedTuple

from django.contrib import messages
from django.db import transaction
from django.db.models import Count, Q
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from portal.jobs.sending import sending
from portal.people.accounts.reauthentication import needs_recent_sign_in
from portal.people.audit.log import record
from portal.people.families.forms import JoinHomesForm, MailInvitationForm, SlipLanguageForm
from portal.people.families.guardianships import end_guardianship
from portal.people.families.invitation_slips import home_to_invite_to, print_slip
from portal.people.families.joining_homes import CannotJoinError, join_homes
from portal.people.families.models.invitations import life_at
from portal.people.jobs import mail_invitation
from portal.people.models import Child, Event, Guardianship, Home, Invitation
from portal.translation.languages import ENGLISH


class AdultShown(NamedTuple):
    """An adult in a home, and the names of the questions that end their access."""

    tie: Guardianship
    ask_one: str
    ask_all: str  # empty for an adult of one child


class HomeShown(NamedTuple):
    """A home of a child as its roster page shows it: number, adults, open invitations."""

    home: Home
    number: int
    adults: list[AdultShown]
    invitations: list[Invitation]


@require_safe
def homes(request: HttpRequest, child_pk: int) -> HttpResponse:
    """Show a child's homes to the office or lead."""
    child = get_object_or_404(Child.objects.kept_by(request.user), pk=child_pk)
    return show(request, child, MailInvitationForm(child))


def show(request: HttpRequest, child: Child, form: MailInvitationForm) -> HttpResponse:
    """Show the homes of *child*, and *form* to invite by mail."""
    context = {
        "child": child,
        "homes": homes_shown(child),
        "form": form,
        "slip_form": SlipLanguageForm(),
    }
    return render(request, "families/homes.html", context, status=200 if not form.errors else 422)


def homes_shown(child: Child) -> list[HomeShown]:
    """Return the homes of *child* with adults and open invitations, in three queries."""
    more = Count("adult__guardianships", filter=Q(adult__guardianships__ended_at=None))
    adults = Guardianship.objects.current().filter(child=child).select_related("adult")
    shown = [
        AdultShown(each, f"end-{each.pk}", f"end-all-{each.pk}" if each.children > 1 else "")
        for each in adults.annotate(children=more).order_by("pk")
    ]
    invitations = list(Invitation.objects.open().filter(child=child).order_by("pk"))
    return [
        HomeShown(
            home,
            number,
            [each for each in shown if each.tie.home_id == home.pk],
            [each for each in invitations if each.home_id == home.pk],
        )
        for number, home in enumerate(Home.objects.of(child), start=1)
    ]


def child_to_invite_to(request: HttpRequest, child_pk: int) -> Child:
    """Return a child of a class on a roster kept. Raises Http404."""
    here = Child.objects.kept_by(request.user).filter(school_class__isnull=False)
    return get_object_or_404(here.select_related("school"), pk=child_pk)


@require_POST
@transaction.atomic
def invite(request: HttpRequest, child_pk: int) -> HttpResponse:
    """Make a slip for a child's home and show it, this once, to be printed."""
    child = child_to_invite_to(request, child_pk)
    home = home_to_invite_to(child, request.POST.get("home", ""))
    asked = SlipLanguageForm(request.POST)
    language = asked.cleaned_data["language"] if asked.is_valid() else ENGLISH
    slip = print_slip(child, home, request.user, language)
    record(request, Event.What.INVITED, child)
    context = {"slips": [slip], "back": child, "life": life_at(child.school)}
    return render(request, "families/slips_printed.html", context)


@require_POST
@transaction.atomic
def invite_by_mail(request: HttpRequest, child_pk: int) -> HttpResponse:
    """Invite an adult to a child's home by mail."""
    child = child_to_invite_to(request, child_pk)
    form = MailInvitationForm(child, request.POST)
    if not form.is_valid():
        return show(request, child, form)
    home = home_to_invite_to(child, form.cleaned_data["home"])
    email = form.cleaned_data["email"]
    language = form.cleaned_data["language"]
    invitation = Invitation.ask_by_mail(child, home, email, request.user, language=language)
    transaction.on_commit(sending(mail_invitation, invitation.pk))
    record(request, Event.What.INVITED, child)
    messages.success(request, _("The mail is on its way. It works once."))
    return redirect("people:homes", child_pk)


@require_POST
def revoke(request: HttpRequest, child_pk: int) -> HttpResponse:
    """Make every open invitation to a child useless."""
    child = get_object_or_404(Child.objects.kept_by(request.user), pk=child_pk)
    ended = Invitation.objects.open().filter(child=child).revoke()
    record(request, Event.What.INVITATION_ENDED, child)
    words = ngettext(
        "%(count)s invitation no longer works.",
        "%(count)s invitations no longer work.",
        ended,
    )
    messages.success(request, words % {"count": ended})
    return redirect("people:homes", child_pk)


@require_POST
@transaction.atomic
def leave(request: HttpRequest, child_pk: int, home_pk: int) -> HttpResponse:
    """Take a child out of a home where none of their adults is left."""
    child = get_object_or_404(Child.objects.kept_by(request.user), pk=child_pk)
    home = get_object_or_404(child.homes, pk=home_pk)
    if home.guardianships.current().filter(child=child).exists():
        messages.warning(request, _("An adult there still has access: end that first."))
        return redirect("people:homes", child_pk)
    Invitation.objects.active().filter(child=child, home=home).revoke()
    home.children.remove(child)
    record(request, Event.What.CHILD_CHANGED, child)
    messages.success(request, _("That is no longer a home of theirs."))
    return redirect("people:homes", child_pk)


@require_http_methods(["GET", "HEAD", "POST"])
def join(request: HttpRequest, child_pk: int) -> HttpResponse:
    """Make two homes of a child one, which were two by mistake alone."""
    child = get_object_or_404(Child.objects.kept_by(request.user), pk=child_pk)
    return needs_recent_sign_in(join_two)(request, child)


def join_two(request: HttpRequest, child: Child) -> HttpResponse:
    """Take which two, and that it is sure."""
    form = JoinHomesForm(child, request.POST or None)
    if form.is_valid():
        kept, other = form.cleaned_data["homes"]
        try:
            with transaction.atomic():
                join_homes(kept, other)
                record(request, Event.What.HOMES_JOINED, child)
        except CannotJoinError:
            form.add_error(
                None, _("Both have something that only one may have. Nothing was changed.")
            )
        else:
            messages.success(request, _("They are one home now."))
            return redirect("people:homes", child.pk)
    context = {"child": child, "form": form}
    return render(request, "families/homes_join.html", context, status=422 if form.errors else 200)


@require_POST
def end(request: HttpRequest, guardianship_pk: int) -> HttpResponse:
    """End an adult's access to a child, or with ?all=yes to every child of theirs here."""
    kept = Guardianship.objects.current().kept_by(request.user).select_related("adult", "child")
    guardianship = get_object_or_404(kept, pk=guardianship_pk)
    end_guardianship(guardianship, everywhere=request.GET.get("all") == "yes")
    record(request, Event.What.GUARDIANSHIP_ENDED, guardianship)
    messages.success(request, _("Ended. They are not told, and see nothing from now on."))
    return redirect("people:homes", guardianship.child_id)
