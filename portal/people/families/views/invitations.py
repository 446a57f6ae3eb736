"""Open invitations of a school, and slips for a whole class."""

from django.contrib import messages
from django.core.paginator import Paginator
from django.db import transaction
from django.db.models import Count, Q, QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from portal.jobs.sending import sending
from portal.people.audit.log import record
from portal.people.families.forms import SlipsForm
from portal.people.families.invitation_slips import Slip, home_to_invite_to, print_slip
from portal.people.families.models.invitations import life_at
from portal.people.jobs import mail_invitation
from portal.people.models import Child, Event, Invitation, SchoolClass, User
from portal.people.school.views.years import school_kept

LINES_A_PAGE = 50


@require_safe
def invitations(request: HttpRequest) -> HttpResponse:
    """List the invitations of a school that are open, and those nobody used in time."""
    school_kept(request)
    kept = Invitation.objects.kept_by(request.user).select_related("child__school_class")
    here = kept.filter(child__school_class__isnull=False)
    page = Paginator(here.open().order_by("expires_at", "pk"), LINES_A_PAGE)
    context = {
        "page": page.get_page(request.GET.get("page")),
        "run_out": here.run_out().exclude(email="").order_by("-expires_at")[:LINES_A_PAGE],
    }
    return render(request, "families/invitations.html", context)


@require_POST
def end(request: HttpRequest, invitation_pk: int) -> HttpResponse:
    """Make one invitation useless."""
    invitation = get_object_or_404(Invitation.objects.kept_by(request.user), pk=invitation_pk)
    Invitation.objects.active().filter(pk=invitation.pk).revoke()
    record(request, Event.What.INVITATION_ENDED, invitation)
    messages.success(request, _("This invitation no longer works."))
    return redirect("people:invitations")


@require_POST
@transaction.atomic
def again(request: HttpRequest, invitation_pk: int) -> HttpResponse:
    """Mail an invitation again, with a new code and as many days anew."""
    kept = Invitation.objects.active().kept_by(request.user).exclude(email="")
    here = kept.filter(child__school_class__isnull=False).select_related("child", "home")
    old = get_object_or_404(here, pk=invitation_pk)
    new = Invitation.ask_by_mail(
        old.child, old.home, old.email, request.user, language=old.language
    )
    transaction.on_commit(sending(mail_invitation, new.pk))
    record(request, Event.What.INVITED, old.child)
    messages.success(request, _("A new mail is on its way; the old one no longer works."))
    return redirect("people:invitations")


@require_http_methods(["GET", "HEAD", "POST"])
def slips(request: HttpRequest, class_pk: int) -> HttpResponse:
    """Choose the slips to print for a class; then show them, this once."""
    school_class = get_object_or_404(SchoolClass.objects.kept_by(request.user), pk=class_pk)
    form = SlipsForm(request.POST or None)
    context = {"school_class": school_class, "life": life_at(school_class.school)}
    if not form.is_valid():
        return render(request, "families/slips.html", {**context, "form": form})
    chosen = form.cleaned_data
    children = children_with_homes(school_class, waiting=chosen["whom"] == SlipsForm.WAITING)
    made = make_slips(
        *(children.filter(homes_known__lte=1), chosen["each"], request.user, chosen["language"])
    )
    record(request, Event.What.INVITED, school_class)
    context |= {
        "slips": made,
        "left_out": children.filter(homes_known__gt=1),
        "one_a_page": chosen["layout"] == SlipsForm.ONE,
    }
    return render(request, "families/slips_printed.html", context)


def children_with_homes(school_class: SchoolClass, *, waiting: bool) -> QuerySet[Child]:
    """Give the children of a class with `homes_known`; *waiting*: where nobody has come in yet."""
    now = Q(guardianships__ended_at=None)
    children = school_class.children.annotate(
        homes_known=Count("homes", distinct=True),
        adults=Count("guardianships", filter=now, distinct=True),
    )
    return children.filter(adults=0) if waiting else children


@transaction.atomic
def make_slips(children: QuerySet[Child], each: int, made_by: User, language: str) -> list[Slip]:
    """Make *each* slips for every one of *children*, to their one home, in *language*.

    Children with several homes are left to their own page: a slip in the wrong bag would let one
    home see the other's work.
    """
    made = []
    for child in children.select_related("school"):
        home = home_to_invite_to(child, "")
        made += [print_slip(child, home, made_by, language) for _number in range(each)]
    return made
