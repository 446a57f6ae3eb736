"""Begins an upload: who it is for, and whether there is room for it. Nothing is read before."""

import datetime as dt
from dataclasses import dataclass
from typing import Self

from django.db import transaction
from django.db.models import Count, Sum
from django.utils import timezone
from django.utils.translation import gettext as _

from evidence.media import LIMITS, Kind
from evidence.models import Piece, Submission
from evidence.storage import partial_files
from evidence.submissions import permissions
from evidence.submissions.permissions import Sender
from evidence.uploads import limits
from evidence.uploads.forms import NO_HOME
from evidence.uploads.room_left import used
from evidence.uploads.tus.protocol import RequestError
from evidence.uploads.tus.upload import Upload
from evidence.uploads.upload_handler import NOT_SAVED, too_big
from portal.people.models import Child, Home, User
from tasks.models import DayPlan, TaskPrompt

# What a phone calls a file is a hint: it can only have the file refused sooner.
HINTS = (("image/", Kind.PHOTO), ("audio/", Kind.VOICE), ("application/pdf", Kind.PAGE))


@dataclass(frozen=True)
class UploadRequest:
    """What the metadata of a new upload asks for, read but not yet allowed."""

    child: int
    day: dt.date
    form_key: str
    to: str = ""
    home: str = ""
    also: tuple[str, ...] = ()
    turn: int = 0
    filetype: str = ""
    prompt: int = 0

    @classmethod
    def of(cls, metadata: dict[str, str]) -> Self:
        """Read *metadata*. Raises RequestError (400) where it makes no sense."""
        try:
            request = cls(
                child=int(metadata["child"]),
                day=dt.date.fromisoformat(metadata["day"]),
                form_key=metadata["form"],
                to=metadata.get("to", ""),
                home=metadata.get("home", ""),
                also=tuple(metadata.get("also", "").split()),
                turn=int(metadata.get("turn", 0)),
                filetype=metadata.get("filetype", ""),
                prompt=int(metadata.get("prompt", 0)),
            )
        except (KeyError, ValueError) as error:
            raise RequestError(400, "The metadata must say child, day and form.") from error
        if not 20 <= len(request.form_key) <= 40 or request.turn not in (0, 90, 180, 270):
            raise RequestError(400, "The metadata must say child, day and form.")
        return request


def create(user: User, request: UploadRequest, length: int, metadata: str) -> Upload:
    """Begin an upload of *length* bytes, safe on the disk.

    Raises RequestError: 404 when *user* may not send this, 413 and 429 when there is no room for
    it, 507 when the disk has none.
    """
    sender, adds_to = allowed(user, request)
    check_length(request, length)
    try:
        if partial_files.free_bytes() < length + limits.FREE_BYTES:
            raise RequestError(507, str(NOT_SAVED))
        with transaction.atomic():
            check_room(sender, length)
            upload = Upload.objects.create(
                file=partial_files.begin(),
                sender=sender.user,
                child=sender.child,
                home=sender.home,
                day_plan=sender.day_plan,
                form_key=sender.form_key,
                by_staff=sender.by_staff,
                adds_to=adds_to,
                prompt=prompt_of(sender, request),
                turn=request.turn,
                metadata=metadata,
                length=length,
            )
            # What a child says of a question is nobody else's.
            also = [] if request.prompt else list(request.also)
            siblings = permissions.chosen(permissions.siblings_of(sender), also)
            upload.also.set([each.child for each in siblings])
    except OSError as error:
        raise RequestError(507, str(NOT_SAVED)) from error
    return upload


def allowed(user: User, request: UploadRequest) -> tuple[Sender, Submission | None]:
    """Return who sends, and the submission it adds to, if any. Raises RequestError (404)."""
    if request.home:
        child = Child.objects.taught_by(user).filter(pk=request.child).first()
    else:
        child = Child.objects.at_home_with(user).filter(pk=request.child).first()
    plan = DayPlan.objects.out_for(child).filter(date=request.day).first() if child else None
    if plan is None:
        raise RequestError(404)
    if request.home:
        sender = permissions.for_family(
            user, child, home_of(request, child), plan, request.form_key
        )
    else:
        sender = permissions.at_home(user, child, plan, request.form_key)
    if sender is None:
        raise RequestError(404)
    return sender, to_add_to(user, request, child)


def prompt_of(sender: Sender, request: UploadRequest) -> TaskPrompt | None:
    """Return the question that the file is about; None where it is not set (any more)."""
    own = sender.day_plan.tasks.for_child(sender.child)
    return TaskPrompt.objects.filter(task__in=own, pk=request.prompt).first()


def home_of(request: UploadRequest, child: Child) -> Home | None:
    """Return the home of *child* that staff post for. Raises RequestError (404)."""
    if request.home == NO_HOME:
        return None
    home = (
        Home.objects.of(child).filter(pk=request.home).first() if request.home.isdecimal() else None
    )
    if home is None:
        raise RequestError(404)
    return home


def to_add_to(user: User, request: UploadRequest, child: Child) -> Submission | None:
    """Return the submission that the upload adds to, or None. Raises RequestError (404)."""
    if not request.to:
        return None
    own = Submission.objects.from_home_of(user).filter(child=child, day_plan__date=request.day)
    found = own.filter(token=request.to).first()
    if found is None:
        raise RequestError(404)
    return found


def check_length(request: UploadRequest, length: int) -> None:
    """Raise RequestError (413) for more bytes than a file of its sort may have."""
    kinds = (kind for start, kind in HINTS if request.filetype.startswith(start))
    kind = next(kinds, Kind.CLIP)
    if length > LIMITS.allowance(kind).bytes:
        raise RequestError(413, too_big(kind))


def check_room(sender: Sender, length: int) -> None:
    """Raise RequestError when the home has no room left for one more upload, in plain words.

    The row of the home (or of the member of staff) is held, so that two uploads that begin
    together cannot both take the last place.
    """
    model, pk = (Home, sender.home.pk) if sender.home else (User, sender.user.pk)
    model.objects.select_for_update().filter(pk=pk).first()
    uploads = Upload.objects.of_same(sender.home, sender.user)
    on_their_way = uploads.open().aggregate(count=Count("pk"), size=Sum("length"))
    since = timezone.now() - limits.HOME_SPAN
    count, size = used(Piece.objects.filter(submission__home=sender.home, arrived_at__gt=since))
    if on_their_way["count"] >= limits.HOME_OPEN:
        raise RequestError(429, _("Too much is on its way already. Wait until some of it is sent."))
    begun = uploads.filter(made_at__gt=timezone.now() - limits.STARTS_SPAN).count()
    if begun >= limits.HOME_STARTS:
        raise RequestError(429, _("That is a lot in one hour. Send the rest later."))
    count += on_their_way["count"]
    size += on_their_way["size"] or 0
    if count >= limits.HOME_PIECES or size + length > limits.HOME_BYTES:
        raise RequestError(413, _("That is a lot for one day. Send it tomorrow."))
