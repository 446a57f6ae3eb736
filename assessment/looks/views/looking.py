"""The page of one submission: looking at it, saving that, and undoing it."""

from dataclasses import replace
from typing import Any

from django.contrib import messages
from django.db.models import Q
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from assessment.looks.another_child.places import places_for
from assessment.looks.another_child.placing import shared_with
from assessment.looks.another_child.same_words import say_to_others
from assessment.looks.drawing.pictures import to_draw_on
from assessment.looks.forms.lead_marks import MarkForm
from assessment.looks.forms.looking import TAG_CHOICES, LookForm, SeenVersionForm
from assessment.looks.look_context import Reading, read
from assessment.looks.looking import (
    LookedMeanwhileError,
    WithdrawnError,
    next_waiting,
    save_look,
    tags_to_show,
    take_back_look,
    undo_look,
    waiting_in,
)
from assessment.looks.phrases import TooManyPhrasesError, general, keep_phrase, to_hand
from assessment.looks.ready_made import filled
from assessment.models import LeadMark, Look, VoiceReply
from evidence.models import Placement, Submission
from portal.headers import with_microphone

LONGEST_KEY = 18  # figures of a key that a database knows
TAG_KEYS = ["", "1", "2", "3", "4"]  # One for each of TAG_CHOICES; "no tag" has none.


@with_microphone
@require_http_methods(["GET", "HEAD", "POST"])
def look(request: HttpRequest, token: str) -> HttpResponse:
    """Show one submission with all that belongs beside it, and store what is made of it."""
    submission = submission_of(request, token)
    reading = read(submission)
    if request.method != "POST":
        tags = tags_to_show(submission, reading.look)
        form = LookForm(goals=reading.goals, initial=LookForm.initial_of(reading.look, tags))
        return look_page(request, reading, form, saved=look_just_saved(request))
    pictures = {picture.name for picture in to_draw_on(submission)}
    form = LookForm(request.POST, goals=reading.goals, pictures=pictures)
    if not form.is_valid():
        return look_page(request, reading, form, status=422)
    reply = filled(form.saying.reply, submission.child, reading.kinds, reading.done)
    saying = replace(form.saying, reply=reply)
    try:
        save_look(submission, request.user, saying, form.cleaned_data["version"])
    except LookedMeanwhileError as error:
        return looked_meanwhile(request, reading, error.look)
    except WithdrawnError:
        return was_withdrawn(request, submission)
    if form.cleaned_data["both"]:
        say_to_others(reading, request.user, form.saying)
    keep_as_phrase(request, form, reading)
    return go_on(request, submission)


def keep_as_phrase(request: HttpRequest, form: LookForm, reading: Reading) -> None:
    """Save the reply as a phrase where that was asked for."""
    text = general(form.saying.reply, reading.submission.child, reading.done)
    if not form.cleaned_data["keep"] or not text:
        return
    try:
        keep_phrase(request.user, text)
    except TooManyPhrasesError:
        messages.warning(request, _("The reply was not kept as a phrase: the list is full."))
    else:
        messages.success(request, _("Kept as a phrase."))


def looked_meanwhile(request: HttpRequest, reading: Reading, theirs: Look | None) -> HttpResponse:
    """Show what somebody else saved, beside all that was typed here; nothing is stored.

    Saving once more then is done knowingly.
    """
    typed = request.POST.copy()
    typed["version"] = str(theirs.version if theirs else 0)
    form = LookForm(typed, goals=reading.goals)
    tags = reading.submission.tags.select_related("goal")
    return look_page(request, reading, form, status=409, theirs=theirs, their_tags=tags)


def look_page(
    request: HttpRequest, reading: Reading, form: LookForm, status: int = 200, **more: Any
) -> HttpResponse:
    """Draw the page of one submission."""
    submission, chosen = reading.submission, {goal.pk: how for goal, how in form.tag_rows()}
    school_class = submission.child.school_class
    context = {
        "reading": reading,
        "submission": submission,
        "school_class": school_class,
        "form": form,
        "suggested": [(row, chosen[row.goal.pk]) for row in reading.suggested],
        "has_suggestion": any(row.suggestion for row in reading.suggested),
        "tag_choices": TAG_CHOICES,
        "tag_keys": TAG_KEYS,
        "other": [(row, chosen[row.goal.pk]) for row in reading.other],
        "waiting": waiting_in(school_class, request.user).count(),
        "following": next_waiting(school_class, request.user, after=submission),
        "phrases": to_hand(request.user, submission.child, reading.kinds, reading.done),
        "voice": VoiceReply.objects.active().filter(submission=submission).first(),
        "put_to": places_for(submission, request.user) if submission.pieces.all() else [],
        "placed": just_placed(request, submission),
        "shared": shared_with(submission),
        "mark": open_mark_on(submission),
        "mark_form": MarkForm(),
        **more,
    }
    return render(request, "looks/look.html", context, status=status)


def open_mark_on(submission: Submission) -> LeadMark | None:
    """Return the mark for the lead on *submission* that nobody has settled."""
    marks = LeadMark.objects.open().filter(submission=submission)
    return marks.select_related("marked_by").first()


def go_on(request: HttpRequest, submission: Submission) -> HttpResponse:
    """Go to the next piece, or back to the list, with a way to undo at the top."""
    school_class = submission.child.school_class
    saved = f"?saved={submission.token}"
    following = None
    if "next" in request.POST:
        following = next_waiting(school_class, request.user, after=submission)
    if following:
        return redirect(reverse("assessment:look", args=[following.token]) + saved)
    return redirect(reverse("assessment:queue", args=[school_class.pk]) + saved)


@require_POST
def undo(request: HttpRequest, token: str) -> HttpResponse:
    """Undo the last save of a look."""
    return change_back(request, token, undo_look)


@require_POST
def take_back(request: HttpRequest, token: str) -> HttpResponse:
    """Let a submission wait for its look again."""
    return change_back(request, token, take_back_look)


def change_back(request: HttpRequest, token: str, action: Any) -> HttpResponse:
    """Do *action* on the version that was on screen, and show the submission again."""
    submission = submission_of(request, token)
    seen = SeenVersionForm(request.GET)
    version = seen.cleaned_data["version"] if seen.is_valid() else -1
    try:
        stands = action(submission, version)
    except WithdrawnError:
        return was_withdrawn(request, submission)
    except LookedMeanwhileError:
        messages.warning(request, _("Somebody has changed this look since. Nothing was undone."))
    else:
        done = _("Undone: the look is as it was before.")
        messages.success(request, done if stands else _("Taken back. This piece waits again."))
    return redirect("assessment:look", submission.token)


def was_withdrawn(request: HttpRequest, submission: Submission) -> HttpResponse:
    """Say that the family took the piece back, and go to the list."""
    messages.warning(request, _("The family has taken this piece back. Nothing was saved."))
    return redirect("assessment:queue", submission.child.school_class_id)


def submission_of(request: HttpRequest, token: str) -> Submission:
    """Return the standing submission *token* of a child taught, or answer 404."""
    whole = Submission.objects.taught_by(request.user).active().whole()
    related = whole.select_related("child__school_class__year__school", "home", "sent_by")
    return get_object_or_404(related, token=token)


def just_placed(request: HttpRequest, submission: Submission) -> Placement | None:
    """Return what was put to or from *submission* just before this page, and can be undone."""
    number = request.GET.get("placed", "")
    if not number.isascii() or not number.isdigit() or len(number) > LONGEST_KEY:
        return None
    own = Placement.objects.visible_to(request.user).standing()
    here = own.filter(Q(source=submission) | Q(target=submission), pk=number)
    return here.select_related("target__child").first()


def look_just_saved(request: HttpRequest) -> Look | None:
    """Return the look that was saved just before this page, if it has not changed since."""
    own = Submission.objects.taught_by(request.user).filter(looked_at__isnull=False)
    found = Look.objects.filter(submission__in=own, submission__token=request.GET.get("saved", ""))
    whole = found.select_related("submission__child").prefetch_related("submission__tags__goal")
    return whole.first() if "saved" in request.GET else None
