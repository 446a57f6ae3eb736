"""What this app puts into a copy of a child's data: for EXPORTS of portal.data_protection.

A home gets what it is told anyway: replies and words. Tags, judgements and notes are in the copy
that the school hands out.
"""

from collections.abc import Iterator
from typing import Any

from django.db.models import Q, QuerySet
from django.utils.translation import gettext_lazy as _

from assessment.models import (
    ContactNote,
    FamilyWord,
    Judgement,
    LeadMark,
    Look,
    PastLook,
    SampledPiece,
    Tag,
    VoiceReply,
    WeekSummary,
)
from evidence.data_export import ENDINGS, reader, work_of
from evidence.models import Submission
from portal.data_protection.data_export.of_people import home_numbers, moment
from portal.data_protection.hooks import CopyFile, Scope, Section


def copy(scope: Scope) -> Iterator[Section | CopyFile]:
    """Yield the replies and weeks; and for the whole child also tags, judgements and notes."""
    work = work_of(scope)
    looks = Look.objects.filter(submission__in=work)
    if scope.home:
        looks = looks.filter(submission__in=Submission.objects.answered())
    yield Section("replies", _("Replies"), [look_row(look, scope) for look in looks.order_by("pk")])
    voices = heard(scope, work)
    for voice in voices:
        yield CopyFile(voice_path(voice), voice.sha256, voice.size, reader(voice.name))
    yield Section("spoken replies", _("Spoken replies"), [voice_row(voice) for voice in voices])
    yield Section("weeks", _("Weeks"), [*week_rows(scope)])
    yield Section("words", _("The teacher's words beside a week"), [*word_rows(scope)])
    if scope.home is None:
        yield from the_schools_own(scope, work)


def the_schools_own(scope: Scope, work: QuerySet[Submission]) -> Iterator[Section]:
    """Yield what staff keep for themselves."""
    child = scope.child
    yield Section("tags", _("Goals noted on work"), [*tag_rows(child.tags.all())])
    yield Section(
        "earlier replies",
        _("Replies before they were changed"),
        [past_row(each) for each in PastLook.objects.filter(look__submission__in=work)],
    )
    yield Section(
        "judgements",
        _("Judgements"),
        [judgement_row(each) for each in Judgement.objects.filter(child=child)],
    )
    yield Section(
        "calls",
        _("Calls to the family"),
        [
            {"at": moment(each, "called_at"), "words": each.words}
            for each in ContactNote.objects.filter(child=child)
        ],
    )
    yield Section(
        "marks",
        _("Shown to the lead"),
        [
            {
                "work": each.submission_id,
                "words": each.words,
                "at": moment(each, "marked_at"),
                "settled_at": moment(each, "settled_at"),
            }
            for each in LeadMark.objects.filter(submission__in=work)
        ],
    )
    yield Section("second looks", _("Second looks"),
                  [second_row(each) for each in
                   SampledPiece.objects.filter(submission__in=work).prefetch_related("tags__goal")]
                  )  # fmt: skip


def heard(scope: Scope, work: QuerySet[Submission]) -> list[VoiceReply]:
    """Return the spoken replies that can be heard."""
    voices = VoiceReply.objects.told() if scope.home else VoiceReply.objects.ready()
    return list(voices.filter(submission__in=work).order_by("pk"))


def voice_path(voice: VoiceReply) -> str:
    """Return where a spoken reply is in the copy."""
    return f"replies/{voice.submission_id}-{voice.pk}.{ENDINGS[voice.media_type]}"


def voice_row(voice: VoiceReply) -> dict[str, Any]:
    """Return one spoken reply."""
    return {
        "work": voice.submission_id,
        "spoken_at": moment(voice, "spoken_at"),
        "files": [voice_path(voice)],
    }


def look_row(look: Look, scope: Scope) -> dict[str, Any]:
    """Return one reply, for a home as it reads it."""
    read = look.for_family if scope.home else look
    return {
        "work": look.submission_id,
        "at": moment(read, "looked_at"),
        "reply": read.reply,
        "next_step": read.next_step,
        "drawn over pictures": read.strokes,
    }


def past_row(past: PastLook) -> dict[str, Any]:
    """Return a reply as it was before a change."""
    return {
        "work": past.look.submission_id,
        "at": moment(past, "looked_at"),
        "reply": past.reply,
        "next_step": past.next_step,
        "drawn over pictures": past.strokes,
    }


def week_rows(scope: Scope) -> Iterator[dict[str, Any]]:
    """Yield the figures of each week that a home was told."""
    numbers = home_numbers(scope.child)
    rows = WeekSummary.objects.filter(child=scope.child)
    for each in (rows.filter(home=scope.home) if scope.home else rows).order_by("week", "pk"):
        yield {
            "week_from": each.week.isoformat(),
            "home": numbers.get(each.home_id, ""),
            "figures": ", ".join(f"{name}: {value}" for name, value in each.figures.items()),
        }


def word_rows(scope: Scope) -> Iterator[dict[str, Any]]:
    """Yield the words about this child alone."""
    words = FamilyWord.objects.filter(child=scope.child)
    if scope.home:
        summaries = WeekSummary.objects.filter(Q(child=scope.child, home=scope.home))
        words = words.filter(week__in=summaries.values("week"))
    for each in words.order_by("week"):
        yield {"week_from": each.week.isoformat(), "words": each.text}


def tag_rows(tags: QuerySet[Tag]) -> Iterator[dict[str, Any]]:
    """Yield each goal on each piece of work."""
    for each in tags.select_related("goal").order_by("shown_at", "pk"):
        yield {
            "work": each.submission_id,
            "goal": each.goal.label,
            "how_shown": str(each.get_how_display()),
            "by_assistant": each.by_assistant,
            "at": moment(each, "tagged_at"),
        }


def judgement_row(each: Judgement) -> dict[str, Any]:
    """Return one version of one judgement."""
    return {
        "of": each.unit,
        "decision": each.level,
        "note": each.note,
        "version": each.version,
        "at": moment(each, "at"),
    }


def second_row(each: SampledPiece) -> dict[str, Any]:
    """Return what a second member of staff saw in a piece of work."""
    return {
        "work": each.submission_id,
        "looked_at": moment(each, "looked_at"),
        "goals": [f"{tag.goal.label}: {tag.get_how_display()}" for tag in each.tags.all()],
    }
