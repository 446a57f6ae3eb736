"""The pages of the second looker: samples asked for, and the next piece, without its tags."""

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from assessment.frameworks import goals_for_kinds
from assessment.judgements.forms import SecondTagForm
from assessment.judgements.second_looks import next_piece, save_second
from assessment.looks.forms.looking import TAG_CHOICES, tag_field
from assessment.looks.marking import kinds_by_weight, marked_tasks
from assessment.models import Sample, SampledPiece
from evidence.models import Submission

LIKELY = 4  # goals shown at once; the others stand behind a fold


@require_safe
def second_looks(request: HttpRequest) -> HttpResponse:
    """List the samples that the reader is asked to look through."""
    if not request.user.has_post:
        raise Http404
    asked = Sample.objects.looked_through_by(request.user).select_related("school_class")
    rows = [
        (sample, sum(piece.looked_at is None for piece in sample.pieces.all()))
        for sample in asked.prefetch_related("pieces")
    ]
    return render(request, "judgements/second_looks.html", {"rows": rows})


@require_http_methods(["GET", "HEAD", "POST"])
def second_look(request: HttpRequest, sample_pk: int) -> HttpResponse:
    """Show the next piece of a sample without its tags and reply, and store the reader's own."""
    asked = Sample.objects.looked_through_by(request.user).select_related("framework")
    sample = get_object_or_404(asked, pk=sample_pk)
    piece = next_piece(sample)
    if piece is None:
        messages.success(request, _("That was the last piece. Thank you."))
        return redirect("assessment:second-looks")
    submission = Submission.objects.whole().get(pk=piece.submission_id)
    tasks = marked_tasks(submission)
    goals = list(sample.framework.goals.in_use())
    first = list(goals_for_kinds(goals, kinds_by_weight(tasks))[:LIKELY])
    ordered = [*first, *(goal for goal in goals if goal not in first)]
    form = SecondTagForm(request.POST or None, goals=ordered)
    if request.method == "POST":
        return stored(request, sample, piece, form)
    rows = [(tag_field(goal.pk), goal, goal in first) for goal in ordered]
    context = {
        "sample": sample,
        "piece": piece,
        "submission": submission,
        "reading": {"tasks": tasks},
        "rows": rows,
        "tag_choices": TAG_CHOICES,
        "left": sample.pieces.filter(looked_at=None).count(),
    }
    return render(request, "judgements/second_look.html", context)


def stored(
    request: HttpRequest, sample: Sample, piece: SampledPiece, form: SecondTagForm
) -> HttpResponse:
    """Store the tags if they are of the piece that was on screen, and go to the next."""
    if request.POST.get("piece") != str(piece.pk) or not form.is_valid() or not form.tags:
        messages.warning(request, _("Nothing was saved. Tag at least one goal of this piece."))
    else:
        save_second(piece, form.tags)
    return redirect("assessment:second-look", sample.pk)
