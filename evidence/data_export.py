"""What this app puts into a copy of a child's data: for EXPORTS of portal.data_protection."""

from collections.abc import Callable, Iterator
from typing import Any

from django.db.models import Q, QuerySet
from django.utils.translation import gettext_lazy as _

from evidence.models import Answer, Piece, Placement, Rendition, Submission
from evidence.storage import store
from evidence.submissions import other_children
from evidence.submissions.nonsubmissions import Nonsubmission
from evidence.submissions.who_looked import looks_at
from portal.data_protection.data_export.of_people import home_numbers, moment
from portal.data_protection.hooks import CopyFile, Scope, Section
from portal.people.models import Guardianship, Purpose

ENDINGS = {"image/jpeg": "jpg", "video/mp4": "mp4", "audio/mp4": "m4a"}
KEPT_BACK = "It shows another child, whose homes have not all agreed. Ask the school to see it."


def copy(scope: Scope) -> Iterator[Section | CopyFile]:
    """Yield the work, its pieces with their files, the answers, and who has looked."""
    work = work_of(scope)
    pieces = Piece.objects.filter(submission__in=work)
    free = set(free_pieces(scope, pieces).values_list("pk", flat=True))
    renditions = Rendition.objects.filter(piece__in=free).select_related("piece__submission")
    renditions = renditions.select_related("piece__submission__day_plan").order_by("piece", "pk")
    files: dict[int, list[str]] = {}
    for rendition in renditions:
        path = path_in_copy(rendition)
        files.setdefault(rendition.piece_id, []).append(path)
        yield CopyFile(path, rendition.sha256, rendition.size, reader(rendition.name))
    yield Section("work", _("What was sent"), [*work_rows(scope, work)])
    yield Section("pieces", _("Photos, clips, voice notes and pages"),
                  [piece_row(piece, files, free) for piece in by_day(pieces)])  # fmt: skip
    yield Section("placed", _("Pieces that staff put to another child"), [*placed_rows(scope)])
    yield Section("answers", _("Answers"), [*answer_rows(work)])
    yield Section("could_not", _("Days that could not be done"), [*could_not_rows(scope)])
    yield Section("reminders", _("Reminders chosen"), [*reminder_rows(scope)])
    yield Section("views", _("Who has looked"), [*view_rows(pieces)])


def work_of(scope: Scope) -> QuerySet[Submission]:
    """Return the work that *scope* is about."""
    work = Submission.objects.filter(child=scope.child)
    return work.filter(home=scope.home) if scope.home else work


def free_pieces(scope: Scope, pieces: QuerySet[Piece]) -> QuerySet[Piece]:
    """Return those of *pieces* whose files may be in the copy.

    A home has what it sent in any case. What goes to anybody else shows no child whose homes
    have not agreed.
    """
    if scope.home or not scope.to_be_handed_out:
        return pieces
    return pieces.filter(other_children.clear_for(Purpose.FAMILIES))


def by_day(pieces: QuerySet[Piece]) -> QuerySet[Piece]:
    """Return *pieces* by the day they are for."""
    related = pieces.select_related("submission__day_plan", "prompt")
    return related.order_by("submission__day_plan__date", "submission", "position", "pk")


def path_in_copy(rendition: Rendition) -> str:
    """Return where the file lies in the copy: by day, piece and what it is."""
    day = rendition.piece.submission.day_plan.date
    name = f"{day}-{rendition.piece_id}-{rendition.role}-{rendition.page}"
    return f"pieces/{name}.{ENDINGS[rendition.media_type]}"


def reader(name: str) -> Callable[[], Iterator[bytes]]:
    """Return what reads the stored file *name* in blocks. Its reading raises OSError."""

    def blocks() -> Iterator[bytes]:
        file = store.open_file(name)
        try:
            yield from file.blocks(0, file.size)
        finally:
            file.close()

    return blocks


def work_rows(scope: Scope, work: QuerySet[Submission]) -> Iterator[dict[str, Any]]:
    """Yield each piece of work as it was sent."""
    numbers, told = home_numbers(scope.child), scope.home is None
    for each in work.select_related("day_plan").order_by("day_plan__date", "pk"):
        yield {
            "number": each.pk,
            "day": each.day_plan.date.isoformat(),
            "focus": each.day_plan.focus,
            "from": numbers.get(each.home_id, "the school"),
            "sent_at": moment(each, "sent_at"),
            "note": each.note,
            "help": str(each.get_help_display()),
            "looked_at": moment(each, "looked_at") if told or each.is_answered else "",
            "reply_opened_at": moment(each, "opened_at"),
            "taken_back_at": moment(each, "withdrawn_at"),
        }


def piece_row(piece: Piece, files: dict[int, list[str]], free: set[int]) -> dict[str, Any]:
    """Return one piece, with its files in the copy."""
    return {
        "number": piece.pk,
        "work": piece.submission_id,
        "day": piece.submission.day_plan.date.isoformat(),
        "kind": str(piece.get_kind_display()),
        "question": piece.prompt.sentence if piece.prompt else "",
        "state": str(piece.get_state_display()),
        "arrived_at": moment(piece, "arrived_at"),
        "taken_back_at": moment(piece, "withdrawn_at"),
        "not_in_the_copy": "" if piece.pk in free else KEPT_BACK,
        "files": files.get(piece.pk, []),
    }


def placed_rows(scope: Scope) -> Iterator[dict[str, Any]]:
    """Yield each piece that staff put to this child or took from it; the other is not named."""
    own = work_of(scope)
    of_child = Q(target__in=own) | Q(source__in=own)
    for each in Placement.objects.filter(of_child).order_by("placed_at", "pk"):
        came = own.filter(pk=each.target_id).exists()
        yield {
            "piece": each.piece_id if came or not each.also else None,
            "work": each.target_id if came else each.source_id,
            "what": "put to this child" if came else "put to another child",
            "as_well": each.also,
            "by": "the school",
            "at": moment(each, "placed_at"),
            "undone_at": moment(each, "undone_at"),
        }


def answer_rows(work: QuerySet[Submission]) -> Iterator[dict[str, Any]]:
    """Yield each answer beside its question."""
    answers = Answer.objects.filter(submission__in=work).select_related("prompt__task")
    for each in answers.order_by("submission", "prompt__task", "prompt__position"):
        yield {
            "work": each.submission_id,
            "question": each.prompt.sentence,
            "answer": each.text,
            "help": str(each.get_help_display()),
            "picture_seen_milliseconds": each.glimpse,
        }


def could_not_rows(scope: Scope) -> Iterator[dict[str, Any]]:
    """Yield each day of which a home said that it could not be done."""
    said = Nonsubmission.objects.filter(child=scope.child).select_related("day_plan")
    numbers = home_numbers(scope.child)
    for each in said.filter(home=scope.home) if scope.home else said:
        yield {
            "day": each.day_plan.date.isoformat(),
            "from": numbers.get(each.home_id, "the school"),
            "said_at": moment(each, "said_at"),
            "why": each.reason,
        }


def reminder_rows(scope: Scope) -> Iterator[dict[str, Any]]:
    """Yield what each adult now at home with the child has chosen."""
    here = Guardianship.objects.current().filter(child=scope.child)
    here = here.filter(home=scope.home) if scope.home else here
    numbers = home_numbers(scope.child)
    for each in here.filter(adult__reminder__isnull=False).select_related("adult__reminder"):
        yield {
            "home": numbers.get(each.home_id, ""),
            "hour": each.adult.reminder.hour,
            "by_mail": each.adult.reminder.by_mail,
            "browsers": each.adult.push_places.count(),
        }


def view_rows(pieces: QuerySet[Piece]) -> Iterator[dict[str, Any]]:
    """Yield when which role looked at which piece."""
    for look in looks_at(list(pieces.values_list("pk", flat=True))):
        yield {"piece": look.piece, "who": look.role, "what": look.what, "at": look.at.isoformat()}
