"""The page of a person's saved phrases."""

from collections.abc import Callable

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from assessment.looks.forms.phrases import MoveForm, PhraseForm
from assessment.looks.models.phrases import MOST
from assessment.looks.phrases import (
    TooManyPhrasesError,
    keep_phrase,
    keep_starters,
    move_phrase,
    put_back,
)
from assessment.models import SavedPhrase
from portal.people.models import SchoolClass

REMOVED = "phrase removed"


@require_http_methods(["GET", "HEAD", "POST"])
def phrases(request: HttpRequest) -> HttpResponse:
    """List the reader's own phrases, and add one."""
    only_for_staff(request)
    given = request.POST if request.method == "POST" else None
    form = PhraseForm(given, user=request.user)
    if request.method == "POST" and form.is_valid():
        return kept(request, lambda: keep_phrase(request.user, form.cleaned_data["text"]))
    context = {
        "form": form,
        "phrases": SavedPhrase.objects.of(request.user),
        "removed": request.session.get(REMOVED) if "removed" in request.GET else None,
    }
    status = 422 if form.is_bound else 200
    return render(request, "looks/phrases.html", context, status=status)


@require_http_methods(["GET", "HEAD", "POST"])
def phrase(request: HttpRequest, phrase_pk: int) -> HttpResponse:
    """Change the words of one phrase."""
    found = phrase_of(request, phrase_pk)
    initial = {"text": found.text}
    given = request.POST if request.method == "POST" else None
    form = PhraseForm(given, user=request.user, phrase=found, initial=initial)
    if request.method == "POST" and form.is_valid():
        found.text = form.cleaned_data["text"]
        found.save(update_fields=["text"])
        return redirect("assessment:phrases")
    status = 422 if form.is_bound else 200
    context = {"form": form, "phrase": found}
    return render(request, "looks/phrase.html", context, status=status)


@require_POST
def move(request: HttpRequest, phrase_pk: int) -> HttpResponse:
    """Move a phrase one place up or down."""
    found, form = phrase_of(request, phrase_pk), MoveForm(request.POST)
    if form.is_valid():
        move_phrase(found, form.cleaned_data["by"])
    return redirect("assessment:phrases")


@require_POST
def remove(request: HttpRequest, phrase_pk: int) -> HttpResponse:
    """Lose a phrase; the session knows it, so that this can be undone."""
    found = phrase_of(request, phrase_pk)
    request.session[REMOVED] = {"text": found.text, "position": found.position}
    found.delete()
    return redirect(reverse("assessment:phrases") + "?removed=1")


@require_POST
def undo_remove(request: HttpRequest) -> HttpResponse:
    """Put the phrase that was lost last back where it was."""
    only_for_staff(request)
    lost = request.session.pop(REMOVED, None)
    if lost is None:
        return redirect("assessment:phrases")
    return kept(request, lambda: put_back(request.user, lost["text"], lost["position"]))


@require_POST
def start(request: HttpRequest) -> HttpResponse:
    """Save a few phrases to start from."""
    only_for_staff(request)
    return kept(request, lambda: keep_starters(request.user))


def kept(request: HttpRequest, action: Callable[[], object]) -> HttpResponse:
    """Do *action*, say so when there is no room for another phrase, and show the list."""
    try:
        action()
    except TooManyPhrasesError:
        words = _("%(most)d phrases are the most. Remove one first.") % {"most": MOST}
        messages.warning(request, words)
    return redirect("assessment:phrases")


def phrase_of(request: HttpRequest, pk: int) -> SavedPhrase:
    """Return a phrase of the reader's own, or answer 404."""
    only_for_staff(request)
    return get_object_or_404(SavedPhrase.objects.of(request.user), pk=pk)


def only_for_staff(request: HttpRequest) -> None:
    """Answer 404 to whoever replies to nobody."""
    if not SchoolClass.objects.taught_by(request.user).exists():
        raise Http404
