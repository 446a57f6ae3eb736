"""The two addresses of tus: where uploads begin, and each upload.

An upload is known by its address, to the home it is of. A session whose time runs out in the
middle must not end it, because clients give an upload up for good when HEAD answers 401, 403 or
404. So the browser in which somebody of that home has run out of time may go on. For anybody else
there is nothing at that address, whatever the verb: OPTIONS describes the server where uploads
begin. Whether the sender may still send for the child is asked again at every step, and before the
piece is made.
"""

from collections.abc import Callable
from functools import wraps
from typing import Any

from django.contrib.auth.decorators import login_not_required
from django.db import DatabaseError
from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.csrf import csrf_exempt

from evidence.media import RefusalReason, refusal_words
from evidence.storage import partial_files
from evidence.storage.partial_files import BusyError
from evidence.uploads.arrivals import TooLateError
from evidence.uploads.tus import protocol
from evidence.uploads.tus.body import Body
from evidence.uploads.tus.cancelling import cancel
from evidence.uploads.tus.completing import sender_of
from evidence.uploads.tus.creating import UploadRequest, create
from evidence.uploads.tus.ending import drop, refuse
from evidence.uploads.tus.protocol import RequestError, answer, standing
from evidence.uploads.tus.upload import Upload
from evidence.uploads.tus.upload_slots import desk
from evidence.uploads.tus.writing import Writing
from evidence.uploads.upload_handler import NOT_SAVED
from portal.people.accounts.known_browsers import left_by_time
from portal.people.accounts.strangers import decides_first
from portal.people.models import Guardianship, User

View = Callable[..., HttpResponse]
COME_AGAIN = {"Retry-After": "2"}


def speaks_tus(*methods: str) -> Callable[[View], View]:
    """Let only what the protocol allows through to a view, and answer its errors.

    The header Tus-Resumable takes the place of a form's token: no other site can have a browser
    send it (ASVS 5.0, 3.5.3).
    """

    def decorate(view: View) -> View:
        @csrf_exempt
        @login_not_required
        @decides_first
        @wraps(view)
        def checked(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
            if "token" in kwargs and not asker(request):
                return answer(404)
            method = request.method
            if method == "POST":
                method = request.headers.get("X-HTTP-Method-Override", method).upper()
            if method == "OPTIONS":
                return protocol.options()
            if method not in methods:
                return answer(405, headers={"Allow": ", ".join(("OPTIONS", *methods))})
            if request.headers.get("Tus-Resumable") != protocol.VERSION:
                return answer(412, headers={"Tus-Version": protocol.VERSION})
            if request.headers.get("Sec-Fetch-Site", "same-origin") != "same-origin":
                return answer(403)
            try:
                return view(request, method, *args, **kwargs)
            except RequestError as error:
                return answer(error.status, error.words, COME_AGAIN if error.status >= 500 else {})
            except BusyError:
                return answer(423)
            except DatabaseError:
                return answer(503, str(NOT_SAVED), COME_AGAIN)

        return checked

    return decorate


@speaks_tus("POST")
def uploads(request: HttpRequest, _method: str) -> HttpResponse:
    """Begin an upload; with a body, take its first bytes as well."""
    if not request.user.is_authenticated:
        raise RequestError(401, _("You were signed out. Sign in, and send it again."))
    length = protocol.length_of(request.headers)
    text = request.headers.get("Upload-Metadata")
    wanted = UploadRequest.of(protocol.metadata_of(text))
    kept = protocol.kept_metadata(text)
    if len(kept) > protocol.LONGEST_METADATA:
        raise RequestError(400, "Upload-Metadata is too long.")
    with_bytes = request.content_type == protocol.BODY_TYPE
    checksum = protocol.checksum_of(request.headers.get("Upload-Checksum"))
    upload = create(request.user, wanted, length, kept)
    if length == 0:
        refuse(upload, _(refusal_words(RefusalReason.EMPTY)))
    elif with_bytes:
        upload = write_first(request, upload, checksum)
    return answer(
        201,
        headers={
            "Location": reverse("evidence:upload", args=[upload.token]),
            **standing(upload),
        },
    )


@speaks_tus("HEAD", "PATCH", "DELETE")
def upload(request: HttpRequest, method: str, token: str) -> HttpResponse:
    """Say how far an upload has got, take more of it, or end it."""
    found = reached(request, token)
    if method == "DELETE":
        return end(found)
    if found.state != Upload.State.DONE and not found.is_open:
        raise RequestError(410, found.refusal)
    return tell(found) if method == "HEAD" else take(request, found)


def reached(request: HttpRequest, token: str) -> Upload:
    """Return the upload of *token*. Raises RequestError (404) where it is none of the asker's."""
    found = Upload.objects.select_related("sender", "child", "home", "day_plan").filter(token=token)
    upload = found.first()
    if upload is None or not is_same_family(asker(request), upload) or sender_of(upload) is None:
        raise RequestError(404)
    return upload


def asker(request: HttpRequest) -> User | None:
    """Return who is signed in here, or was until their time ran out; None for nobody."""
    return request.user if request.user.is_authenticated else left_by_time(request)


def is_same_family(user: User | None, upload: Upload) -> bool:
    """Whether *user* is the sender, or at home with the child as well."""
    if user == upload.sender:
        return True
    here = Guardianship.objects.current().filter(child=upload.child, home=upload.home)
    return here.filter(adult=user).exists()


def tell(upload: Upload) -> HttpResponse:
    """Answer HEAD, once nobody is writing. Raises BusyError."""
    if upload.state != Upload.State.DONE:
        try:
            with partial_files.held(upload.file):
                upload.refresh_from_db()
        except FileNotFoundError:
            upload.refresh_from_db()
            if upload.state != Upload.State.DONE:
                raise RequestError(410, upload.refusal) from None
    headers = {"Upload-Length": str(upload.length), "Cache-Control": "no-store"}
    if upload.metadata:
        headers["Upload-Metadata"] = upload.metadata
    return answer(200, headers={**headers, **standing(upload)})


def take(request: HttpRequest, upload: Upload) -> HttpResponse:
    """Answer PATCH. Raises RequestError, BusyError."""
    if request.content_type != protocol.BODY_TYPE:
        raise RequestError(415, f"The type must be {protocol.BODY_TYPE}.")
    offset = protocol.natural(request.headers.get("Upload-Offset"), "Upload-Offset")
    checksum = protocol.checksum_of(request.headers.get("Upload-Checksum"))
    upload = write(request, upload, offset, checksum)
    return answer(204, headers=standing(upload))


def write(
    request: HttpRequest, upload: Upload, offset: int, checksum: protocol.Checksum | None
) -> Upload:
    """Take the body of *request* in from *offset* on, and give the upload as it stands then."""
    with desk(upload.home_id or f"staff {upload.sender_id}"):
        try:
            with partial_files.held(upload.file) as file:
                fresh = Upload.objects.select_related("sender", "child", "home", "day_plan").get(
                    pk=upload.pk
                )
                check_offset(request, fresh, offset, file.size)
                body = Body(request)
                if fresh.is_open:
                    Writing(fresh, file, checksum).run(body)
        except FileNotFoundError:
            upload.refresh_from_db()
            check_offset(request, upload, offset, 0)
            return upload
    if body.stopped:
        raise RequestError(409, "Somebody else goes on with this upload.")
    return fresh


def write_first(request: HttpRequest, upload: Upload, checksum: protocol.Checksum | None) -> Upload:
    """Take the body that came with the request for *upload*, as far as that can be done.

    What cannot be taken just now may be sent again later. Raises RequestError for what is refused,
    with nothing left of the upload.
    """
    try:
        return write(request, upload, 0, checksum)
    except RequestError as error:
        upload.refresh_from_db()
        if error.status not in (503, protocol.CHECKSUM_MISMATCH):
            drop(upload, Upload.State.ENDED)
            raise
    return upload


def check_offset(request: HttpRequest, upload: Upload, offset: int, size: int) -> None:
    """Raise RequestError unless bytes can be put at *offset*; *size*: what the file has.

    A file that is shorter than what was promised has met with an accident: the upload is gone.
    """
    if upload.state == Upload.State.ENDED or upload.state == Upload.State.REFUSED:
        raise RequestError(410, upload.refusal)
    if offset != upload.offset:
        raise RequestError(409, "Upload-Offset is not where this upload stands.")
    if upload.is_open and size < upload.offset:
        raise RequestError(410)
    length = request.META.get("CONTENT_LENGTH") or "0"
    if length.isdigit() and offset + int(length) > upload.length:
        raise RequestError(413, "More bytes came than the upload has.")


def end(upload: Upload) -> HttpResponse:
    """Answer DELETE. Raises RequestError, BusyError."""
    if upload.state in (Upload.State.ENDED, Upload.State.REFUSED):
        raise RequestError(410, upload.refusal)
    try:
        cancel(upload)
    except FileNotFoundError:
        upload.refresh_from_db()
        if upload.state != Upload.State.DONE:
            raise RequestError(410) from None
        cancel(upload)
    except TooLateError as error:
        raise RequestError(409, _("This has been looked at, so it stays as it is.")) from error
    return answer(204)
