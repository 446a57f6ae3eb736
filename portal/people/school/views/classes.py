"""The classes of a school and their children."""

from django.db.models import Count, Q
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_safe

from portal.people.models import SchoolClass, StaffPost


@require_safe
def classes(request: HttpRequest) -> HttpResponse:
    """List the classes one may open; with a single one to teach, go there at once."""
    known = SchoolClass.objects.visible_to(request.user).select_related("year")
    known = list(known.annotate(size=Count("children")))
    taught = set(SchoolClass.objects.taught_by(request.user).values_list("pk", flat=True))
    kept = set(SchoolClass.objects.kept_by(request.user).values_list("pk", flat=True))
    roles = {post.role for post in request.user.posts_held}
    keeps = bool(roles & {StaffPost.Role.LEAD, StaffPost.Role.OFFICE})
    if len(known) == 1 and taught and not keeps:
        return redirect("assessment:queue", class_pk=known[0].pk)
    today = request.school.today() if request.school else timezone.localdate()
    rows = [(each, each.pk in taught, each.pk in kept) for each in known]
    context = {
        "rows": [row for row in rows if row[0].year.ends >= today],
        "earlier": [row for row in rows if row[0].year.ends < today],
        "keeps": keeps,
        "leads": StaffPost.Role.LEAD in roles,
    }
    return render(request, "school/classes.html", context)


@require_safe
def roster(request: HttpRequest, class_pk: int) -> HttpResponse:
    """Show the children of a class with how many adults at home have come in."""
    school_class = get_object_or_404(SchoolClass.objects.kept_by(request.user), pk=class_pk)
    now = Q(guardianships__ended_at=None)
    waiting = Q(
        invitations__used_at=None,
        invitations__revoked_at=None,
        invitations__expires_at__gt=timezone.now(),
    )
    children = school_class.children.annotate(
        adults=Count("guardianships", filter=now, distinct=True),
        homes_known=Count("homes", distinct=True),
        invited=Count("invitations", filter=waiting, distinct=True),
    )
    context = {"school_class": school_class, "children": children}
    return render(request, "school/roster.html", context)
