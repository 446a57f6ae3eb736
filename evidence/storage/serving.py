"""Answers with a private file, or the ranges of it that were asked for: RFC 9110, section 14."""

import logging
import secrets
from collections.abc import Iterator

from django.http import Http404, HttpRequest, HttpResponse, StreamingHttpResponse
from django.http.response import HttpResponseBase
from django.utils.cache import get_conditional_response
from django.utils.translation import gettext_lazy

from evidence.media.byteranges import (
    Answer,
    ByteRange,
    Selection,
    select,
    unsatisfied_content_range,
)
from evidence.models import Rendition
from evidence.storage import store
from evidence.storage.reading import Readable

log = logging.getLogger(__name__)
ENDINGS = {"image/jpeg": "jpg", "video/mp4": "mp4", "audio/mp4": "m4a"}
AWAY = gettext_lazy("We cannot show this just now. Please try again in a few minutes.")
Part = bytes | ByteRange


class Reading:
    """The blocks of an answer: words of our own and ranges of a file, read as they are sent."""

    def __init__(self, file: Readable, parts: list[Part]) -> None:
        self.file = file
        self.parts = parts
        self.length = sum(len(part) for part in parts)

    def __iter__(self) -> Iterator[bytes]:
        for part in self.parts:
            if isinstance(part, bytes):
                yield part
            else:
                yield from self.file.blocks(part.first, len(part))

    def close(self) -> None:
        """Close the file. Django calls this when the answer is sent or its reader has gone."""
        self.file.close()


def private_file(request: HttpRequest, rendition: Rendition) -> HttpResponseBase:
    """Answer *request* with the file of *rendition*, which its sender was found to be free to see.

    200, 206, 304, 412 or 416; several ranges come as multipart/byteranges (see `select` for which).
    503 while the store does not answer.
    Raises Http404 when the file is gone: it may have been taken back a moment ago.
    """
    try:
        file = opened(rendition)
    except OSError:
        log.exception("rendition %d cannot be read now", rendition.pk)
        return away()
    chosen = select(
        request.headers.get("Range"),
        rendition.size,
        method=request.method or "GET",
        if_range=request.headers.get("If-Range"),
        etag=etag_of(rendition),
    )
    response = response_for(file, rendition, chosen)
    answer = get_conditional_response(request, etag=etag_of(rendition), response=response)
    if request.method == "HEAD" or answer is not response:
        file.close()
    if request.method == "HEAD" and answer is response:
        answer = HttpResponse(headers=response.headers)
    for name, value in headers(rendition).items():
        answer.headers[name] = value
    return answer


def away() -> HttpResponse:
    """Say that the store does not answer: it is no fault of the file, and will pass."""
    headers = {"Retry-After": "60"}
    return HttpResponse(AWAY, status=503, content_type="text/plain; charset=utf-8", headers=headers)


def opened(rendition: Rendition) -> Readable:
    """Open the file of *rendition*. Raises Http404 when it is not there whole; OSError."""
    try:
        file = store.open_file(rendition.name)
    except FileNotFoundError:
        log.warning("rendition %d has no file", rendition.pk)
        raise Http404 from None
    if file.size != rendition.size:
        file.close()
        log.error("rendition %d is not as long as it was", rendition.pk)
        raise Http404
    return file


def etag_of(rendition: Rendition) -> str:
    """Return the strong tag of a file: a name of its bytes, which never change under it."""
    return f'"{rendition.sha256[:32]}"'


def headers(rendition: Rendition) -> dict[str, str]:
    """Return what every answer about this file carries.

    `no-store`, though a clip is then fetched again each time it is watched: the phone or the class
    computer may be shared, and a child's picture must not stay on it after signing out.
    """
    ending = ENDINGS[rendition.media_type]
    return {
        "Content-Disposition": f'inline; filename="piece.{ending}"',
        "Content-Security-Policy": "sandbox",
        "X-Content-Type-Options": "nosniff",
        "Cross-Origin-Resource-Policy": "same-origin",
        "Cache-Control": "private, no-store",
        "Accept-Ranges": "bytes",
        "ETag": etag_of(rendition),
    }


def response_for(file: Readable, rendition: Rendition, chosen: Selection) -> HttpResponseBase:
    """Return the answer that *chosen* stands for, without the headers that all of them carry."""
    size = rendition.size
    if chosen.answer == Answer.UNSATISFIABLE:
        file.close()
        headers = {"Content-Range": unsatisfied_content_range(size)}
        return HttpResponse(status=416, content_type="text/plain", headers=headers)
    if chosen.answer == Answer.WHOLE:
        return streamed(Reading(file, [ByteRange(0, size - 1)]), 200, rendition.media_type)
    if chosen.answer == Answer.ONE:
        response = streamed(Reading(file, [*chosen.ranges]), 206, rendition.media_type)
        response.headers["Content-Range"] = chosen.ranges[0].content_range(size)
        return response
    return several(file, rendition, chosen.ranges)


def several(
    file: Readable, rendition: Rendition, ranges: tuple[ByteRange, ...]
) -> HttpResponseBase:
    """Return several ranges in one answer: RFC 9110, 14.6."""
    boundary = secrets.token_hex(16)
    parts: list[Part] = []
    for each in ranges:
        head = (
            f"\r\n--{boundary}\r\nContent-Type: {rendition.media_type}\r\n"
            f"Content-Range: {each.content_range(rendition.size)}\r\n\r\n"
        )
        parts += [head.encode("ascii"), each]
    parts.append(f"\r\n--{boundary}--\r\n".encode("ascii"))
    return streamed(Reading(file, parts), 206, f"multipart/byteranges; boundary={boundary}")


def streamed(reading: Reading, status: int, media_type: str) -> HttpResponseBase:
    """Return an answer that reads its file block by block while it is sent."""
    response = StreamingHttpResponse(reading, status=status, content_type=media_type)
    response.headers["Content-Length"] = str(reading.length)
    return response
