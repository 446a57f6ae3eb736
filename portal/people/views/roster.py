"""The classes of a school, their children, and slips for families."""

from django.contrib import messages
from django.db import transaction
from django.db.models import Count, Q
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from portal.people.invitations import qr_code, slip_address
from portal.people.models import Child, Home, Invitation, SchoolClass


@require_safe
def classes(request: HttpRequest) -> HttpResponse:
    """List the classes one may open; with a single one to teach, go there at once."""
    known = SchoolClass.objects.visible_to(request.user).annotate(size=Count("children"))
    taught = set(SchoolClass.objects.taught_by(request.user).values_list("pk", flat=True))
    kept = set(SchoolClass.objects.kept_by(request.user).values_list("pk", flat=True))
    if len(known) == 1 and taught and not kept:
        return redirect("assessment:queue", class_pk=known[0].pk)
    context = {
        "rows": [(each, each.pk in taught, each.pk in kept) for each in known],
    }
    return render(request, "people/classes.html", context)


@require_safe
def roster(request: HttpRequest, class_pk: int) -> HttpResponse:
    """Show the children of a class with how many adults at home have come in."""
    school_class = get_object_or_404(SchoolClass.objects.kept_by(request.user), pk=class_pk)
    now = Q(guardianships__ended_at=None)
    children = school_class.children.annotate(
        adults=Count("guardianships", filter=now, distinct=True),
        homes=Count("guardianships__home", filter=now, distinct=True),
    )
    context = {"school_class": school_class, "children": children}
    return render(request, "people/roster.html", context)


@require_POST
@transaction.atomic
def invite(request: HttpRequest, child_pk: int) -> HttpResponse:
    """Make a slip for a child's home and show it, this once, to be printed."""
    classes_kept = SchoolClass.objects.kept_by(request.user)
    child = get_object_or_404(Child, school_class__in=classes_kept, pk=child_pk)
    homes = Home.objects.filter(guardianships__child=child, guardianships__ended_at=None)
    home = None if request.POST.get("home") == "new" else homes.order_by("pk").first()
    home = home or Home.objects.create(school=child.school)
    slip = Invitation.issue(child, home, request.user)
    address = slip_address(slip)
    context = {
        "child": child,
        "slip": slip,
        "address_shown": address.split("#")[0],
        "qr": qr_code(address),
    }
    return render(request, "people/slip.html", context)


@require_POST
def revoke(request: HttpRequest, child_pk: int) -> HttpResponse:
    """Make every open slip of a child useless."""
    child = get_object_or_404(
        Child, school_class__in=SchoolClass.objects.kept_by(request.user), pk=child_pk
    )
    ended = Invitation.objects.open().filter(child=child).revoke()
    messages.success(request, _("%(count)s open slips do not work any more.") % {"count": ended})
    return redirect("people:roster", class_pk=child.school_class_id)
