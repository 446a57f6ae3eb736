"""What the tus 1.0.0 protocol puts into headers, read and written: https://tus.io/protocols."""

import base64
import binascii
import hashlib
from collections.abc import Mapping
from typing import Any, NamedTuple

from django.http import HttpResponse
from django.utils.http import http_date

from evidence.media import LIMITS, Kind

VERSION = "1.0.0"
EXTENSIONS = "creation,creation-with-upload,checksum,termination,expiration"
ALGORITHMS = ("sha1", "sha256")
BODY_TYPE = "application/offset+octet-stream"
CHECKSUM_MISMATCH = 460
MAX_SIZE = max(LIMITS.allowance(kind).bytes for kind in Kind)
# What is kept of the metadata and given back by HEAD. File names say too much to be kept.
KEPT = ("filetype", "child", "day", "form", "to", "home", "also", "turn")
LONGEST_METADATA = 600


class RequestError(Exception):
    """The request cannot be done; carries the answer's status, and words for who reads it."""

    def __init__(self, status: int, words: str = "") -> None:
        super().__init__(words)
        self.status = status
        self.words = words


class Checksum(NamedTuple):
    """What the bytes of one request must hash to."""

    algorithm: str
    digest: bytes

    def begin(self) -> Any:
        """Return a fresh hash of the algorithm."""
        return hashlib.new(self.algorithm, usedforsecurity=False)


def answer(status: int, words: str = "", headers: Mapping[str, str] | None = None) -> HttpResponse:
    """Return an answer of the protocol, with *words* for a person as its body."""
    response = HttpResponse(words, status=status, content_type="text/plain; charset=utf-8")
    for name, value in {"Tus-Resumable": VERSION, **(headers or {})}.items():
        response.headers[name] = value
    if not words:
        del response.headers["Content-Type"]
    return response


def options() -> HttpResponse:
    """Say what the server can do."""
    return answer(
        204,
        headers={
            "Tus-Version": VERSION,
            "Tus-Extension": EXTENSIONS,
            "Tus-Max-Size": str(MAX_SIZE),
            "Tus-Checksum-Algorithm": ",".join(ALGORITHMS),
        },
    )


def standing(upload: Any) -> dict[str, str]:
    """Return the headers that say how far *upload* has got and when it ends."""
    return {
        "Upload-Offset": str(upload.offset),
        "Upload-Expires": http_date(upload.expires_at.timestamp()),
    }


def natural(text: str | None, name: str) -> int:
    """Read the number of header *name*. Raises RequestError (400) for anything but digits."""
    if text is None or not text.isascii() or not text.isdigit() or len(text) > 18:
        raise RequestError(400, f"{name} must be a number.")
    return int(text)


def length_of(headers: Mapping[str, str]) -> int:
    """Read Upload-Length. Raises RequestError: 400 without it, 413 when it is too much.

    The length may not be said later (Upload-Defer-Length): room is kept for what was said.
    """
    if "Upload-Defer-Length" in headers:
        raise RequestError(400, "Upload-Length must be said at the beginning.")
    length = natural(headers.get("Upload-Length"), "Upload-Length")
    if length > MAX_SIZE:
        raise RequestError(413)
    return length


def metadata_of(text: str | None) -> dict[str, str]:
    """Read Upload-Metadata: pairs of a key and a value in Base64, which may be left out.

    Raises RequestError (400).
    """
    found: dict[str, str] = {}
    for pair in (text or "").split(","):
        key, _space, value = pair.strip().partition(" ")
        if not key and not value:
            continue
        if not key or key in found:
            raise RequestError(400, "Upload-Metadata cannot be read.")
        try:
            found[key] = base64.b64decode(value, validate=True).decode()
        except (binascii.Error, UnicodeDecodeError) as error:
            raise RequestError(400, "Upload-Metadata cannot be read.") from error
    return found


def kept_metadata(text: str | None) -> str:
    """Return the pairs of Upload-Metadata that are kept, just as they were written."""
    pairs = [pair.strip() for pair in (text or "").split(",")]
    return ",".join(pair for pair in pairs if pair.partition(" ")[0] in KEPT)


def checksum_of(text: str | None) -> Checksum | None:
    """Read Upload-Checksum; None without one. Raises RequestError (400) for an unknown one."""
    if text is None:
        return None
    algorithm, _space, value = text.strip().partition(" ")
    try:
        digest = base64.b64decode(value, validate=True)
    except binascii.Error as error:
        raise RequestError(400, "Upload-Checksum cannot be read.") from error
    if algorithm not in ALGORITHMS or len(digest) != hashlib.new(algorithm).digest_size:
        raise RequestError(400, f"Upload-Checksum must be one of: {', '.join(ALGORITHMS)}.")
    return Checksum(algorithm, digest)
