"""The page that says who will see a piece at another child, and the press that puts it there."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from assessment.looks.another_child import placing
from assessment.looks.another_child.forms import PlaceForm
from assessment.looks.another_child.places import places_for, who_sees
from evidence.models import Placement
from evidence.submissions.views.other_children import piece_taught
from evidence.uploads.arrivals import NotSavedError
from evidence.uploads.upload_handler import NOT_SAVED
from portal.people.audit.log import record
from portal.people.models import Event


@require_http_methods(["GET", "HEAD", "POST"])
def place(request: HttpRequest, token: str) -> HttpResponse:
    """Say who will see a piece at the child chosen, and put it there once that is confirmed."""
    piece = piece_taught(request, token)
    work = piece.submission
    places = places_for(work, request.user)
    given = request.POST if request.method == "POST" else request.GET
    form = PlaceForm(places, given or None)
    chosen = form.place if form.is_valid() else None
    if request.method == "POST" and chosen:
        also = form.cleaned_data["also"]
        try:
            made = (placing.put_also if also else placing.put)(piece, chosen, request.user)
        except (placing.StaysError, NotSavedError) as error:
            stays = isinstance(error, placing.StaysError)
            messages.error(request, _("It stays where it is.") if stays else NOT_SAVED)
            return redirect("assessment:queue", work.child.school_class_id)
        record(request, Event.What.PIECE_PLACED, made)
        shown = made.source if also else made.target
        return redirect(reverse("assessment:look", args=[shown.token]) + f"?placed={made.pk}")
    also = bool(chosen and form.cleaned_data["also"])
    context = {
        "piece": piece,
        "work": work,
        "form": form,
        "chosen": chosen,
        "also": also,
        "who_sees": who_sees(work, chosen, also=also) if chosen else "",
    }
    status = 422 if request.method == "POST" else 200
    return render(request, "looks/another_child.html", context, status=status)


@require_POST
def undo(request: HttpRequest, placement_pk: int) -> HttpResponse:
    """Put a piece back to the child it was sent for, or take the copy from the other again."""
    rows = Placement.objects.visible_to(request.user).select_related("source", "target", "piece")
    placement = get_object_or_404(rows, pk=placement_pk)
    try:
        placing.undo(placement)
    except placing.StaysError:
        messages.warning(request, _("It was looked at or changed since. Nothing was undone."))
        return redirect("assessment:look", placement.target.token)
    record(request, Event.What.PLACING_UNDONE, placement)
    messages.success(request, _("Undone: it is as it was before."))
    return redirect("assessment:look", placement.source.token)
