"""Takes in what a family sends: on the disk first, then in the database, then the answer."""

import logging
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import partial

from django.db import DatabaseError, transaction

from evidence.jobs import queue_on_commit
from evidence.models import Answer, Piece, Submission
from evidence.storage import partial_files, store
from evidence.storage.orphans import drop_unnamed
from evidence.submissions.permissions import Sender
from evidence.uploads.room_left import Room
from evidence.uploads.upload_handler import ArrivedFile

log = logging.getLogger(__name__)
Find = Callable[[], Submission]


class NotSavedError(Exception):
    """Nothing of the form was saved, for a reason that is ours: try again soon."""


class NothingToSaveError(Exception):
    """The submission would be empty: nothing was typed, and no file could be kept."""


class TooLateError(Exception):
    """The submission was looked at or taken back, so it can no longer be changed."""


@dataclass(frozen=True)
class Words:
    """What was typed and chosen; `answers` maps the id of a prompt to the text, "" for none.

    help: with what is shown in pieces. part_help: with the part of a prompt, by the prompt's id.
    glimpses: for how many milliseconds the picture of a prompt was seen before it was covered.
    """

    note: str = ""
    help: str = ""
    answers: Mapping[int, str] = field(default_factory=dict)
    part_help: Mapping[int, str] = field(default_factory=dict)
    glimpses: Mapping[int, int] = field(default_factory=dict)

    @property
    def for_sibling(self) -> "Words":
        """Give what of it holds for a sibling as well: not the answers, which are one child's."""
        return Words(self.note, self.help)

    @property
    def most_help(self) -> str:
        """Return the help with the pieces; where none was said, the most with any part answered.

        Where nothing was said of a part, it is not said of the whole that there was none.
        """
        said = {self.part_help.get(pk, "") for pk, text in self.answers.items() if text}
        if self.help or not said:
            return self.help
        least_alone = (Submission.Help.TOGETHER, Submission.Help.A_LITTLE, "")
        return next((each for each in least_alone if each in said), Submission.Help.ALONE)

    @property
    def are_empty(self) -> bool:
        """Whether nothing was typed or chosen."""
        return not (self.note or self.help or any(self.answers.values()))


@dataclass(frozen=True)
class Kept:
    """A file of the form that is on the disk, and its name in the store."""

    file: ArrivedFile
    name: str

    def as_piece(self, submission: Submission, position: int) -> Piece:
        """Return the unsaved row of this file as a piece of *submission*."""
        return Piece(
            submission=submission,
            position=position,
            kind=self.file.kind,
            turn=self.file.turn,
            prompt=self.file.prompt,
            original=self.name,
            sha256=self.file.sha256,
            size=self.file.size,
        )


@dataclass(frozen=True)
class Arrival:
    """What became of a form: the submission, and how many pieces are new."""

    submission: Submission
    kept: int


def send(
    sender: Sender,
    words: Words,
    files: Sequence[ArrivedFile],
    also: Sequence[Sender] = (),
    find: Find | None = None,
) -> Arrival:
    """Take in a form as a new submission, or into the one it made before. Raises as `add` does.

    A form that is sent twice (a double tap, an answer that got lost) makes one submission. *also*:
    siblings who did the work together; each gets a submission with the same pieces and note.
    """
    return take_in(
        [find or partial(opened, sender), *(partial(opened, each) for each in also)], words, files
    )


def add(submission: Submission, words: Words, files: Sequence[ArrivedFile]) -> Arrival:
    """Take in a form that adds pieces to *submission* and replaces its words.

    On return every piece counted as kept outlives a power cut. Raises NotSavedError, TooLateError
    and NothingToSaveError, each with nothing left half done. A file that was not kept says why in
    its `refusal`.
    """
    return take_in([partial(reopened, submission.pk)], words, files)


def take_in(finds: Sequence[Find], words: Words, files: Sequence[ArrivedFile]) -> Arrival:
    """Keep the good *files* on the disk, then save all rows of the form in one transaction.

    *finds* give the submissions: that of the child, and those of siblings.
    """
    kept: list[Kept] = []
    try:
        for file in files:
            if not file.refusal:
                kept.append(Kept(file, file.keep()))
        copies = [list(kept)]
        for _sibling in finds[1:]:
            copies.append(twins(copies[0], kept))
        with transaction.atomic():
            first = save_form(finds[0](), words, copies[0])
            if first.submission.is_empty:
                raise NothingToSaveError
            for find, own in zip(finds[1:], copies[1:], strict=True):
                save_for_sibling(find(), words.for_sibling, own)
    except (OSError, DatabaseError) as error:
        log.exception("a form could not be saved")
        raise NotSavedError from error
    finally:
        drop_unnamed([each.name for each in kept])
    return first


def twins(first: Sequence[Kept], kept: list[Kept]) -> list[Kept]:
    """Return the files of *first* a second name each, for a sibling; all names go into *kept*."""
    own: list[Kept] = []
    for each in first:
        own.append(replace(each, name=partial_files.twin(store.path_of(each.name))))
        kept.append(own[-1])
    return own


def save_form(submission: Submission, words: Words, kept: Sequence[Kept]) -> Arrival:
    """Save what came for one *submission*."""
    pieces = save_pieces(submission, kept)
    save_words(submission, words)
    queue_on_commit([piece.pk for piece in pieces])
    return Arrival(submission, len(pieces))


def save_for_sibling(submission: Submission, words: Words, kept: Sequence[Kept]) -> None:
    """Save what came for the *submission* of a sibling, who may get nothing of it."""
    save_form(submission, words, kept)
    if submission.is_empty:
        submission.delete()


def opened(sender: Sender) -> Submission:
    """Return the submission of the form, made now or the first time it was sent.

    Raises TooLateError.
    """
    made_now = {
        "child": sender.child,
        "day_plan": sender.day_plan,
        "sent_by": sender.user,
        "by_staff": sender.by_staff,
    }
    submission, _made = Submission.objects.select_for_update().get_or_create(
        home=sender.home, form_key=sender.form_key, defaults=made_now
    )
    same = (submission.child_id, submission.day_plan_id) == (sender.child.pk, sender.day_plan.pk)
    if not same or submission.looked_at or submission.withdrawn_at:
        raise TooLateError
    return submission


def reopened(pk: int) -> Submission:
    """Return submission *pk*, held until the transaction ends. Raises TooLateError."""
    submission = Submission.objects.select_for_update().open_to_change().filter(pk=pk).first()
    if submission is None:
        raise TooLateError
    return submission


def save_pieces(submission: Submission, kept: Sequence[Kept]) -> list[Piece]:
    """Save a row for each new file there is room for; the others are told why there is none.

    A file that is in the submission already is passed over: it has been sent twice.
    """
    there = set(submission.pieces.active().values_list("sha256", flat=True))
    position = submission.pieces.count()
    room = Room.of(submission)
    pieces: list[Piece] = []
    for each in kept:
        if each.file.sha256 in there:
            continue
        each.file.refusal = room.take(each.file.size)
        if not each.file.refusal:
            there.add(each.file.sha256)
            pieces.append(each.as_piece(submission, position + len(pieces)))
    return Piece.objects.bulk_create(pieces)


def save_words(submission: Submission, words: Words) -> None:
    """Replace the words of *submission*; an answer that is now empty is taken away."""
    submission.note, submission.help = words.note, words.most_help
    submission.save(update_fields=["note", "help"])
    given = {prompt: text for prompt, text in words.answers.items() if text}
    before = dict(submission.answers.values_list("prompt", "text"))
    # Changed later, beside the open picture, it was glimpsed no more.
    glimpsed = {pk for pk, text in given.items() if before.get(pk, text) == text}
    submission.answers.exclude(prompt__in=given).delete()
    Answer.objects.bulk_create(
        [
            Answer(
                submission=submission,
                prompt_id=pk,
                text=text,
                help=words.part_help.get(pk, ""),
                glimpse=words.glimpses.get(pk) if pk in glimpsed else None,
            )
            for pk, text in given.items()
        ],
        update_conflicts=True,
        unique_fields=["submission", "prompt"],
        update_fields=["text", "help", "glimpse"],
    )
