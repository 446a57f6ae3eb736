"""Ranges of a private file, asked of the real page.

Source: RFC 9110, HTTP Semantics (IETF, June 2022), section 14 Range Requests, 13.1 Preconditions,
8.8.3 ETag, 15.5.17 416 Range Not Satisfiable. The rows for a file of 10,000 bytes are those of
14.1.2, which takes a representation of that length as its example.
"""

import email
import hashlib

import pytest
from django.test import Client
from django.urls import reverse

from evidence.models import Rendition
from tests.evidence.builders import make_ready_piece, make_submission, spoil
from tests.evidence.storage.buckets import bucket_server, keep_renditions_at, new_bucket
from tests.village import Village

__all__ = ["bucket_server"]
pytestmark = pytest.mark.django_db
SIZE = 10_000
CONTENT = b"".join(hashlib.sha256(bytes([number])).digest() for number in range(256)) * 2
CONTENT = CONTENT[:SIZE]


@pytest.fixture(autouse=True, params=["folder", "bucket"])
def own_store(request, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "media"
    if request.param == "bucket":
        keep_renditions_at(new_bucket(request.getfixturevalue("bucket_server")), settings)


def address_of(village: Village, content: bytes) -> str:
    """Put a clip with *content* as its file, and give the address of that file."""
    submission = make_submission(village)
    piece = make_ready_piece(submission, content, "clip", "video/mp4", kind="clip")
    return reverse("evidence:piece", args=[piece.token, "clip"])


@pytest.fixture
def address(village: Village) -> str:
    return address_of(village, CONTENT)


@pytest.fixture
def family(village: Village, signed_in) -> Client:
    return signed_in("family")


def body(response) -> bytes:
    return response.getvalue()


ONE_RANGE = {
    "bytes=0-499": (0, 499),
    "bytes=500-999": (500, 999),
    "bytes=-500": (9500, 9999),
    "bytes=9500-": (9500, 9999),
    "bytes=0-1": (0, 1),
    "bytes=9500-99999": (9500, 9999),
    "bytes=-20000": (0, 9999),
    "bytes=0-0": (0, 0),
    "bytes=-1": (9999, 9999),
    "bytes=0-": (0, 9999),
    "bytes=0-99999999999999999999999": (0, 9999),
    f"bytes=0-{'9' * 5000}": (0, 9999),
    "bytes=9999-9999": (9999, 9999),
    "BYTES=0-499": (0, 499),
    "bytes=0-499,": (0, 499),
    "bytes=20000-30000,0-1": (0, 1),
}


@pytest.mark.parametrize("asked", ONE_RANGE, ids=lambda asked: asked[:30])
def test_one_range_is_answered_with_just_those_bytes(family, address, asked):
    first, last = ONE_RANGE[asked]

    response = family.get(address, headers={"range": asked})

    assert response.status_code == 206
    assert response.headers["Content-Range"] == f"bytes {first}-{last}/{SIZE}"
    assert response.headers["Content-Length"] == str(last - first + 1)
    assert response.headers["Content-Type"] == "video/mp4"
    assert body(response) == CONTENT[first : last + 1]


SEVERAL = {
    "bytes=0-0,-1": [(0, 0), (9999, 9999)],
    "bytes= 0-999, 4500-5499, -1000": [(0, 999), (4500, 5499), (9000, 9999)],
    "bytes=500-600,601-999": [(500, 600), (601, 999)],
    "bytes=601-999,500-600": [(601, 999), (500, 600)],
}


@pytest.mark.parametrize("asked", SEVERAL)
def test_several_ranges_come_as_parts_of_one_answer(family, address, asked):
    response = family.get(address, headers={"range": asked})
    content = body(response)

    assert response.status_code == 206
    assert "Content-Range" not in response.headers
    assert response.headers["Content-Length"] == str(len(content))
    kind = response.headers["Content-Type"]
    assert kind.startswith("multipart/byteranges; boundary=")
    message = email.message_from_bytes(f"Content-Type: {kind}\r\n\r\n".encode() + content)
    parts = message.get_payload()
    assert [part["Content-Range"] for part in parts] == [
        f"bytes {first}-{last}/{SIZE}" for first, last in SEVERAL[asked]
    ]
    assert {part.get_content_type() for part in parts} == {"video/mp4"}
    for first, last in SEVERAL[asked]:
        assert b"\r\n\r\n" + CONTENT[first : last + 1] + b"\r\n--" in content


WHOLE = [
    "bytes=500-700,601-999",  # they overlap; the RFC lets a server answer with the whole
    "bytes=" + ",".join(f"{start}-{start}" for start in range(0, 100, 10)),  # many small ones
    "bytes=5-2",
    "bytes=abc",
    "bytes=-",
    "bytes=",
    "bytes",
    "lines=1-2",
    "bytes=1-2-3",
    "bytes=1.5-3",
    "bytes=٣-٤",
]


@pytest.mark.parametrize("asked", WHOLE)
def test_what_is_no_range_or_not_one_to_serve_is_answered_with_the_whole(family, address, asked):
    response = family.get(address, headers={"range": asked})

    assert response.status_code == 200
    assert "Content-Range" not in response.headers
    assert response.headers["Content-Length"] == str(SIZE)
    assert body(response) == CONTENT


@pytest.mark.parametrize("asked", ["bytes=10000-", "bytes=-0", "bytes=10000-20000,30000-"])
def test_a_range_past_the_end_is_told_how_long_the_file_is(family, address, asked):
    response = family.get(address, headers={"range": asked})

    assert response.status_code == 416
    assert response.headers["Content-Range"] == f"bytes */{SIZE}"
    assert response.content == b""


def test_without_a_range_the_whole_file_comes_with_a_strong_tag(family, address):
    response = family.get(address)

    assert response.status_code == 200
    assert response.headers["Accept-Ranges"] == "bytes"
    assert response.headers["ETag"].startswith('"')
    assert body(response) == CONTENT


def test_a_range_is_passed_over_by_head(family, address):
    response = family.head(address, headers={"range": "bytes=0-499"})

    assert response.status_code == 200
    assert response.headers["Content-Length"] == str(SIZE)
    assert response.headers["Accept-Ranges"] == "bytes"
    assert response.content == b""


def test_another_method_is_not_allowed(family, address):
    assert family.post(address, headers={"range": "bytes=0-499"}).status_code == 405


def test_if_range_gives_the_range_only_of_the_very_same_file(family, address):
    tag = family.get(address).headers["ETag"]

    def status(if_range: str) -> int:
        headers = {"range": "bytes=0-499", "if-range": if_range}
        return family.get(address, headers=headers).status_code

    assert status(tag) == 206
    assert status('"another"') == 200
    assert status(f"W/{tag}") == 200
    assert status("Wed, 25 Nov 2026 10:00:00 GMT") == 200


def test_a_copy_that_is_still_good_is_not_sent_again_range_or_not(family, address):
    tag = family.get(address).headers["ETag"]

    for headers in ({}, {"range": "bytes=0-499"}):
        response = family.get(address, headers={"if-none-match": tag, **headers})
        assert response.status_code == 304
        assert response.headers["ETag"] == tag
        assert response.content == b""
    assert family.get(address, headers={"if-none-match": f"W/{tag}"}).status_code == 304
    assert family.get(address, headers={"if-none-match": '"another"'}).status_code == 200
    assert family.head(address, headers={"if-none-match": tag}).status_code == 304


def test_if_match_of_another_file_fails(family, address):
    tag = family.get(address).headers["ETag"]

    assert family.get(address, headers={"if-match": '"another"'}).status_code == 412
    assert family.get(address, headers={"if-match": tag}).status_code == 200


def test_the_tag_differs_when_the_bytes_do(village, family, address):
    other = address_of(village, CONTENT[::-1])

    assert family.get(address).headers["ETag"] != family.get(other).headers["ETag"]


@pytest.mark.parametrize("asked", ["bytes=0-0", "bytes=-5", "bytes=0-"])
def test_no_range_of_an_empty_file_is_an_error_of_ours(village, family, address, asked):
    spoil(Rendition.objects.get().name, b"")
    Rendition.objects.update(size=0)

    assert family.get(address, headers={"range": asked}).status_code in (200, 416)


RFC_1234 = {"bytes=0-499": "0-499", "bytes=500-999": "500-999", "bytes=500-": "500-1233",
            "bytes=-500": "734-1233"}  # fmt: skip


def test_the_examples_of_a_file_of_1234_bytes(village, family):
    address = address_of(village, CONTENT[:1234])

    for asked, given in RFC_1234.items():
        response = family.get(address, headers={"range": asked})
        assert response.headers["Content-Range"] == f"bytes {given}/1234"
    response = family.get(address, headers={"range": "bytes=1234-"})
    assert response.headers["Content-Range"] == "bytes */1234"
