"""Which other children a piece shows: said by a family, named by staff; and showing it in class."""

from django import forms
from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from evidence.models import Piece, Submission
from evidence.submissions import other_children
from portal.people.audit.log import record
from portal.people.models import Child, Event, Purpose, User


class OthersForm(forms.Form):
    """Who else is in a piece."""

    shows = forms.BooleanField(label=gettext_lazy("It shows another child"), required=False)
    children = forms.ModelMultipleChoiceField(
        queryset=Child.objects.none(),
        label=gettext_lazy("Who"),
        widget=forms.CheckboxSelectMultiple,
        required=False,
    )
    strangers = forms.BooleanField(
        label=gettext_lazy("Somebody who is not in this list, or I cannot tell"), required=False
    )

    def __init__(self, piece: Piece, user: User, *args: object, **more: object) -> None:
        super().__init__(*args, **more)
        near = Child.objects.taught_by(user).exclude(pk=piece.submission.child_id)
        of_year = near.filter(school_class__year=piece.submission.child.school_class.year_id)
        self.fields["children"].queryset = of_year.order_by("school_class", "first_name", "pk")

    @classmethod
    def initial_of(cls, piece: Piece) -> dict[str, object]:
        """Return what is said of *piece* so far."""
        mark = other_children.OthersShown.objects.filter(piece=piece).first()
        named = list(mark.children.values_list("child", flat=True)) if mark else []
        return {
            "shows": mark is not None,
            "children": [pk for pk in named if pk],
            "strangers": None in named,
        }


@require_POST
def shows_others(request: HttpRequest, token: str) -> HttpResponse:
    """Let a family say that a piece shows another child, and take back what it said itself."""
    own = Submission.objects.from_home_of(request.user)
    pieces = Piece.objects.active().filter(submission__in=own).select_related("submission")
    piece = get_object_or_404(pieces, token=token)
    if request.POST.get("shows") == "no":
        mine = other_children.OthersShown.objects.filter(
            piece=piece, marked_by=request.user, children=None
        )
        mine.delete()
    else:
        other_children.mark([piece], request.user)
        messages.success(request, _("Noted. It stays with your home and the staff of the class."))
    return redirect("evidence:submission", piece.submission.token)


@require_http_methods(["GET", "HEAD", "POST"])
def name_others(request: HttpRequest, token: str) -> HttpResponse:
    """Let staff say whether a piece shows other children, and which; families are not told."""
    piece = piece_taught(request, token)
    posted = request.POST if request.method == "POST" else None
    form = OthersForm(piece, request.user, posted, initial=OthersForm.initial_of(piece))
    if form.is_valid():
        answers = form.cleaned_data
        if answers["shows"] or answers["children"] or answers["strangers"]:
            other_children.name_children(
                piece, answers["children"], strangers=answers["strangers"], by=request.user
            )
        else:
            other_children.unmark(piece)
        record(request, Event.What.OTHERS_NAMED, piece)
        messages.success(request, _("Noted, from now on."))
        return redirect("evidence:piece-others", token)
    usable = Piece.objects.filter(pk=piece.pk)
    context = {
        "piece": piece,
        "form": form,
        "uses": [
            (purpose, usable.filter(other_children.usable_for(purpose)).exists())
            for purpose in (Purpose.DISPLAY, Purpose.FAMILIES, Purpose.OUTSIDE)
        ],
    }
    return render(
        request, "submissions/other_children.html", context, status=422 if form.is_bound else 200
    )


@require_safe
def in_class(request: HttpRequest, token: str) -> HttpResponse:
    """Show a piece alone and large, to a class, where every home agrees; else nothing is there."""
    piece = piece_taught(request, token)
    ready = (
        Piece.objects.ready()
        .whole()
        .filter(other_children.usable_for(Purpose.DISPLAY), pk=piece.pk)
    )
    found = ready.first()
    if found is None:
        raise Http404
    return render(request, "submissions/in_class.html", {"piece": found})


def piece_taught(request: HttpRequest, token: str) -> Piece:
    """Return a piece that the reader may open as a member of staff, or answer 404."""
    work = Submission.objects.taught_by(request.user)
    open_to = Piece.objects.visible_to(request.user).active().filter(submission__in=work)
    related = open_to.select_related("submission__child__school_class", "submission__day_plan")
    return get_object_or_404(related, token=token)
