"""Spoken replies: recording one, hearing it, taking it back."""

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.csrf import csrf_exempt, csrf_protect
from django.views.decorators.http import require_POST, require_safe

from assessment.looks.forms.voice_replies import VoiceForm
from assessment.looks.voice_replies import NotKeptError, keep_recording, put_back, take_back
from assessment.models import VoiceReply
from evidence.media import LIMITS, Kind
from evidence.models import Submission
from evidence.storage.serving import private_file
from evidence.uploads.upload_handler import NOT_SAVED, straight_into_the_store, too_big


# The token of the form is checked in `receive`: reading it means reading the recording, and
# nobody's is read before it is known that this person may reply here.
@csrf_exempt
@require_POST
def record(request: HttpRequest, token: str) -> HttpResponse:
    """Keep a recording as the reply to one submission."""
    submission = get_object_or_404(Submission.objects.taught_by(request.user).active(), token=token)
    if int(request.META.get("CONTENT_LENGTH") or 0) > LIMITS.voice.bytes:
        return part(request, submission, status=413, error=too_big(Kind.VOICE))
    with straight_into_the_store(request):
        return receive(request, submission)


@csrf_protect
def receive(request: HttpRequest, submission: Submission) -> HttpResponse:
    """Read the recording into the store, and show how far it is."""
    form = VoiceForm(request.POST, request.FILES)
    if not form.is_valid():
        return part(request, submission, status=422, error=form.errors["voice"][0])
    try:
        keep_recording(submission, request.user, form.cleaned_data["voice"])
    except NotKeptError:
        return part(request, submission, status=503, error=str(NOT_SAVED))
    except Submission.DoesNotExist:
        raise Http404 from None
    return part(request, submission)


@require_safe
def hear(request: HttpRequest, token: str) -> HttpResponseBase:
    """Return the sound of one reply, or the ranges of it that are asked for."""
    if request.headers.get("Sec-Fetch-Site") == "cross-site":
        raise Http404
    replies = VoiceReply.objects.visible_to(request.user).ready()
    return private_file(request, get_object_or_404(replies, token=token))


@require_safe
def state(request: HttpRequest, token: str) -> HttpResponse:
    """Return the part of the looking page that shows a reply; it asks again until it is final."""
    return part(request, reply_of(request, token).submission)


@require_POST
def take(request: HttpRequest, token: str) -> HttpResponse:
    """Stop a reply from being heard, with a way to put it back."""
    reply = reply_of(request, token)
    take_back(reply)
    return part(request, reply.submission, taken=reply)


@require_POST
def give(request: HttpRequest, token: str) -> HttpResponse:
    """Let a reply that was taken back be heard again."""
    reply = reply_of(request, token)
    error = "" if put_back(reply) else _("It could not be put back: something newer is there.")
    return part(request, reply.submission, error=error)


def part(
    request: HttpRequest,
    submission: Submission,
    status: int = 200,
    error: str = "",
    taken: VoiceReply | None = None,
) -> HttpResponse:
    """Draw the spoken reply of *submission* again; without scripts, its whole page."""
    if not request.headers.get("HX-Request") and request.method == "POST":
        if error:
            messages.warning(request, error)
        return redirect("assessment:look", submission.token)
    reply = VoiceReply.objects.active().filter(submission=submission).first()
    context = {"submission": submission, "voice": reply, "error": error, "taken": taken}
    return render(request, "looks/_voice.html", context, status=status)


def reply_of(request: HttpRequest, token: str) -> VoiceReply:
    """Return a reply to the work of a child taught, or answer 404."""
    replies = VoiceReply.objects.taught_by(request.user).select_related("submission")
    return get_object_or_404(replies, token=token)
