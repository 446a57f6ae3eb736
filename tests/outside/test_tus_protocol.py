"""The portal's uploads answer as the tus 1.0.0 protocol says, row by row.

Source: tus resumable upload protocol 1.0.0 (2016-03-25), https://tus.io/protocols/resumable-upload;
where it leaves a status open, the reference server tusd's black-box tests (pkg/handler/*_test.go).
"""

import base64
import datetime as dt
import hashlib
from email.utils import parsedate_to_datetime

import pytest
from django.utils import timezone

from evidence.models import Piece, Upload
from evidence.storage import partial_files
from tests.evidence.builders import jpeg, make_plan
from tests.evidence.uploads.tus.tus import (
    START,
    ask,
    begin,
    encoded,
    head,
    metadata,
    patch,
    sent_whole,
    upload_at,
)

pytestmark = [pytest.mark.django_db, pytest.mark.servers]
HELLO = b"hello world"
# The first bytes of an MP4, so that what follows may be anything.
FILM = b"\x00\x00\x00\x18ftypmp42\x00\x00\x00\x00mp42isom"


@pytest.fixture(autouse=True)
def own_store(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "media"


@pytest.fixture
def child(village):
    make_plan(village.robins)
    return village.aisha


@pytest.fixture
def client(child, signed_in):
    return signed_in("family")


def film(length: int) -> bytes:
    return FILM + bytes(number % 251 for number in range(length - len(FILM)))


def digest_of(data: bytes, algorithm: str = "sha1") -> str:
    digest = hashlib.new(algorithm, data, usedforsecurity=False).digest()
    return f"{algorithm} {base64.b64encode(digest).decode()}"


@pytest.mark.parametrize("version", [None, "0.2.2", "2.0.0"])
@pytest.mark.parametrize("method", ["POST", "HEAD", "PATCH", "DELETE"])
def test_another_version_of_the_protocol_is_answered_412_and_not_processed(
    client, child, method, version
):
    address = START if method == "POST" else begin(client, child, 100)
    before = Upload.objects.count()

    answer = ask(
        client, method, address, film(50) if method == "PATCH" else b"",
        Tus_Resumable=version, Upload_Offset="0", Upload_Length="100",
        Upload_Metadata=metadata(child),
    )  # fmt: skip

    assert answer.status_code == 412
    assert answer.headers["Tus-Version"] == "1.0.0"
    assert Upload.objects.count() == before
    assert all(each.offset == 0 for each in Upload.objects.filter(state="open"))


def test_every_answer_says_which_version_it_speaks(client, child):
    address = begin(client, child, 100)
    answers = [
        ask(client, "OPTIONS", START, Tus_Resumable=None),
        ask(client, "POST", START),
        ask(client, "GET", START),
        head(client, address),
        head(client, f"{START}nobody/"),
        patch(client, address, 7, b"x"),
        patch(client, address, 0, film(100)),
        ask(client, "DELETE", address),
    ]
    assert {answer.headers["Tus-Resumable"] for answer in answers} == {"1.0.0"}


def test_options_says_what_the_server_can_do(client):
    answer = ask(client, "OPTIONS", START, Tus_Resumable=None)

    assert answer.status_code in (200, 204)
    assert answer.headers["Tus-Version"] == "1.0.0"
    assert set(answer.headers["Tus-Extension"].split(",")) == {
        *("creation", "creation-with-upload", "checksum", "termination", "expiration"),
    }
    assert int(answer.headers["Tus-Max-Size"]) > 0
    assert "sha1" in answer.headers["Tus-Checksum-Algorithm"].split(",")


def test_head_tells_offset_and_length_and_is_not_kept_in_caches(client, child):
    told = metadata(child, filetype="image/jpeg")
    answer = ask(client, "POST", START, Upload_Length="100", Upload_Metadata=told)
    answer = head(client, answer.headers["Location"])

    assert answer.status_code in (200, 204)
    assert answer.headers["Upload-Offset"] == "0"
    assert answer.headers["Upload-Length"] == "100"
    assert answer.headers["Cache-Control"] == "no-store"
    assert answer.headers["Upload-Metadata"] == told


def test_head_of_what_is_not_there_tells_no_offset(client):
    answer = head(client, f"{START}nobody/")

    assert answer.status_code in (403, 404, 410)
    assert "Upload-Offset" not in answer.headers


def test_head_of_a_finished_upload_tells_its_whole_length(client, child):
    address = begin(client, child, 100)
    patch(client, address, 0, film(100))

    assert head(client, address).headers["Upload-Offset"] == "100"


def test_patch_adds_its_bytes_where_the_upload_stands(client, child):
    whole, address = film(200), begin(client, child, 200)
    patch(client, address, 0, whole[:70])

    answer = patch(client, address, 70, whole[70:100])

    assert answer.status_code == 204
    assert answer.headers["Upload-Offset"] == "100"
    assert partial_files.path_of(upload_at(address).file).read_bytes() == whole[:100]


def test_patch_of_another_type_is_answered_415(client, child):
    address = begin(client, child, 100)

    answer = patch(client, address, 0, film(50), Content_Type="application/octet-stream")

    assert answer.status_code == 415
    assert head(client, address).headers["Upload-Offset"] == "0"


@pytest.mark.parametrize("offset", [0, 69, 71, 190])
def test_patch_at_another_offset_is_answered_409_and_writes_nothing(client, child, offset):
    whole, address = film(200), begin(client, child, 200)
    patch(client, address, 0, whole[:70])

    assert patch(client, address, offset, b"x" * 10).status_code == 409
    assert head(client, address).headers["Upload-Offset"] == "70"
    assert partial_files.path_of(upload_at(address).file).read_bytes() == whole[:70]


@pytest.mark.parametrize("offset", [None, "", "-1", "abc", "1e3"])
def test_patch_without_a_sound_offset_is_answered_400(client, child, offset):
    address = begin(client, child, 100)

    assert ask(client, "PATCH", address, b"x", Upload_Offset=offset).status_code == 400


def test_patch_of_what_is_not_there_is_answered_404(client):
    assert patch(client, f"{START}nobody/", 0, b"x").status_code in (404, 410)


def test_patch_after_the_end_of_its_time_is_answered_404_or_410(client, child):
    address = begin(client, child, 100)
    Upload.objects.update(expires_at=timezone.now() - dt.timedelta(seconds=1))

    assert patch(client, address, 0, film(100)).status_code in (404, 410)
    assert head(client, address).status_code in (404, 410)


def test_patch_after_delete_is_answered_404_or_410(client, child):
    address = begin(client, child, 100)
    ask(client, "DELETE", address)

    assert patch(client, address, 0, film(100)).status_code in (404, 410)


def test_patch_with_more_bytes_than_the_upload_has_is_refused(client, child):
    address = begin(client, child, 100)

    assert patch(client, address, 0, film(101)).status_code == 413
    assert head(client, address).headers["Upload-Offset"] == "0"


def test_post_begins_an_upload_and_says_where_it_is(client, child):
    told = f"filename d29ybGRfZG9taW5hdGlvbl9wbGFuLnBkZg==,is_confidential,{metadata(child)}"

    answer = ask(client, "POST", START, Upload_Length="100", Upload_Metadata=told)

    assert answer.status_code == 201
    assert head(client, answer.headers["Location"]).headers["Upload-Offset"] == "0"


def test_post_of_more_than_the_most_is_answered_413(client, child):
    most = int(ask(client, "OPTIONS", START).headers["Tus-Max-Size"])

    def status(length: int) -> int:
        told = metadata(child)
        return ask(
            client, "POST", START, Upload_Length=str(length), Upload_Metadata=told
        ).status_code

    assert status(most) == 201
    assert status(most + 1) == 413


@pytest.mark.parametrize(
    "lengths",
    [
        {},
        {"Upload_Length": "100", "Upload_Defer_Length": "1"},
        {"Upload_Length": "-1"},
        {"Upload_Length": "abc"},
        {"Upload_Length": "10.5"},
        {"Upload_Length": ""},
    ],
)
def test_post_without_one_sound_length_is_answered_400(client, child, lengths):
    answer = ask(client, "POST", START, Upload_Metadata=metadata(child), **lengths)

    assert answer.status_code == 400


def test_an_empty_upload_is_complete_from_the_beginning(client, child):
    answer = ask(client, "POST", START, Upload_Length="0", Upload_Metadata=metadata(child))

    assert answer.status_code == 201
    assert answer.headers["Upload-Offset"] == "0"


def test_post_with_bytes_takes_them_at_once(client, child):
    told = metadata(child)
    answer = ask(
        client, "POST", START, film(100)[:5],
        Content_Type="application/offset+octet-stream", Upload_Length="100", Upload_Metadata=told,
    )  # fmt: skip

    assert answer.status_code == 201
    assert answer.headers["Upload-Offset"] == "5"
    assert patch(client, answer.headers["Location"], 5, film(100)[5:]).status_code == 204
    assert Piece.objects.get().size == 100


def test_post_with_all_bytes_is_a_whole_upload(client, child):
    answer = ask(
        client, "POST", START, film(100),
        Content_Type="application/offset+octet-stream", Upload_Length="100",
        Upload_Metadata=metadata(child),
    )  # fmt: skip

    assert (answer.status_code, answer.headers["Upload-Offset"]) == (201, "100")
    assert Piece.objects.get().sha256 == hashlib.sha256(film(100)).hexdigest()


def test_an_upload_says_when_it_ends_in_the_form_of_http_dates(client, child):
    address = begin(client, child, 100)
    answers = [head(client, address), patch(client, address, 0, film(50))]

    for answer in answers:
        ends = parsedate_to_datetime(answer.headers["Upload-Expires"])
        assert ends > timezone.now()
        assert answer.headers["Upload-Expires"].endswith(" GMT")


def test_the_protocols_own_checksum_is_right(client, child):
    """The example of the protocol's text: `hello world` and its SHA-1."""
    address = begin(client, child, 100)

    answer = patch(client, address, 0, HELLO, Upload_Checksum="sha1 Kq5sNclPz7QV2+lfQIuc6R7oRu0=")

    assert answer.status_code == 204
    assert head(client, address).headers["Upload-Offset"] == "11"


@pytest.mark.parametrize("algorithm", ["sha1", "sha256"])
def test_bytes_that_are_what_their_checksum_says_are_kept(client, child, algorithm):
    whole, address = film(100), begin(client, child, 100)
    patch(client, address, 0, whole[:40])

    checksum = digest_of(whole[40:], algorithm)
    assert patch(client, address, 40, whole[40:], Upload_Checksum=checksum).status_code == 204
    assert Piece.objects.get().sha256 == hashlib.sha256(whole).hexdigest()


def test_bytes_that_are_not_what_their_checksum_says_are_dropped(client, child):
    whole, address = film(100), begin(client, child, 100)
    patch(client, address, 0, whole[:40])

    answer = patch(client, address, 40, b"x" * 60, Upload_Checksum=digest_of(whole[40:]))

    assert answer.status_code == 460
    assert head(client, address).headers["Upload-Offset"] == "40"
    assert partial_files.path_of(upload_at(address).file).read_bytes() == whole[:40]


@pytest.mark.parametrize(
    "checksum", ["md5 rL0Y20zC+Fzt72VPzMSk2A==", "sha1", "sha1 !", "sha1 YQ=="]
)
def test_an_unknown_checksum_is_answered_400_and_drops_the_bytes(client, child, checksum):
    address = begin(client, child, 100)

    assert patch(client, address, 0, film(50), Upload_Checksum=checksum).status_code == 400
    assert head(client, address).headers["Upload-Offset"] == "0"


def test_delete_ends_an_upload_and_its_bytes(client, child):
    address = begin(client, child, 100)
    patch(client, address, 0, film(50))
    path = partial_files.path_of(upload_at(address).file)

    assert ask(client, "DELETE", address).status_code == 204
    assert head(client, address).status_code in (404, 410)
    assert ask(client, "DELETE", address).status_code in (404, 410)
    assert not path.exists()


@pytest.mark.parametrize("method", ["PATCH", "HEAD", "DELETE"])
def test_a_post_may_stand_for_another_method(client, child, method):
    address = begin(client, child, 100)

    answer = ask(
        client, "POST", address, film(100)[:30] if method == "PATCH" else b"",
        Content_Type="application/offset+octet-stream", Upload_Offset="0",
        X_HTTP_Method_Override=method,
    )  # fmt: skip

    assert answer.status_code in (200, 204)
    offsets = {"PATCH": "30", "HEAD": "0", "DELETE": None}
    assert answer.headers.get("Upload-Offset") == offsets[method]


@pytest.mark.parametrize("text", ["", "child", "=,=", "child MQ==,child MQ==", "child !!"])
def test_metadata_that_says_nothing_sound_is_answered_400(client, child, text):
    answer = ask(client, "POST", START, Upload_Length="100", Upload_Metadata=text)

    assert answer.status_code == 400


def test_an_empty_value_beside_sound_metadata_is_no_fault(client, child):
    told = f"{metadata(child)},note,filetype {encoded('')}"
    assert ask(client, "POST", START, Upload_Length="9", Upload_Metadata=told).status_code == 201


def test_what_came_is_byte_for_byte_what_was_sent(client, child):
    whole = jpeg() + bytes(range(256)) * 20
    upload = sent_whole(client, child, whole)

    piece = upload.pieces.get()
    assert (piece.sha256, piece.size) == (hashlib.sha256(whole).hexdigest(), len(whole))
