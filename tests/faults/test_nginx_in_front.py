"""Debian's nginx before the portal, set up by the very words of the document for operators."""

import hashlib
import re
import sys
import urllib.request
from collections.abc import Iterator
from http.client import HTTPSConnection
from urllib.parse import urlsplit

import pytest
from django.urls import reverse

from tests.evidence.uploads.tus.tus import BYTES, START, encoded
from tests.faults import nginx
from tests.faults.idle import CHUNK, FORM, KINDS, LONGEST, answers, begun, idle, slowest
from tests.faults.phone import Phone, photo
from tests.faults.portal import WELL, Portal, running

pytestmark = pytest.mark.stack
LINES, PLACES = 500, 90
PAGES = ("/healthz", "/sign-in/")
STOOD_FOR = ("half a head", "half a sign-in", "half a large body to sign in with")


@pytest.fixture(scope="module")
def portal(ground, place) -> Iterator[Portal]:
    nginx.program()
    with running(ground, place / "data", BEHIND_PROXY="1") as portal:
        yield portal


@pytest.fixture(scope="module")
def address(portal, tmp_path_factory) -> Iterator[str]:
    with nginx.in_front_of(portal.port, tmp_path_factory.mktemp("nginx")) as address:
        yield address


class PhoneByTls(Phone):
    """A phone that comes by the address families type."""

    def line(self, timeout: float = 90) -> HTTPSConnection:
        """Return a line to nginx."""
        where = urlsplit(self.url).netloc
        return HTTPSConnection(where, timeout=timeout, context=nginx.trusting())

    def ask(self, method: str, path: str, body: bytes | None = None, timeout=90, **more: str):
        """Send one request, from a page of the portal."""
        return super().ask(method, path, body, timeout, Referer=f"{self.url}/", **more)


@pytest.fixture
def phone(portal, address) -> PhoneByTls:
    """Return the phone of a home of the street."""
    one = portal.phones()[0]
    return PhoneByTls(address, one.session, one.child, one.day)


def page_of(address: str):
    """Give what opens a page as a stranger."""

    def open_page(path: str) -> int:
        context = nginx.trusting()
        with urllib.request.urlopen(f"{address}{path}", timeout=20, context=context) as answer:
            answer.read()
            return answer.status

    return open_page


def upload(phone: PhoneByTls, content: bytes) -> str:
    """Begin an upload, and give its address."""
    told = {"child": str(phone.child), "day": phone.day, "form": "k" * 24}
    metadata = ",".join(f"{name} {encoded(value)}" for name, value in told.items())
    headers = {"Tus-Resumable": "1.0.0", "Upload-Length": str(len(content))}
    answer = phone.ask("POST", START, **headers, **{"Upload-Metadata": metadata})
    assert answer.status == 201, answer.text
    return urlsplit(answer.location).path


@pytest.mark.parametrize("kind", STOOD_FOR)
def test_pages_open_through_nginx_while_five_hundred_lines_stand_that(kind, address):
    with idle(address, LINES, KINDS[kind], nginx.trusting().wrap_socket):
        longest = slowest(page_of(address), PAGES)
    sys.stdout.write(f"\nnginx, {LINES} lines, {kind}: slowest page {longest * 1000:.0f} ms\n")
    assert longest < LONGEST


def test_more_uploads_than_there_are_places_for_are_told_to_come_again(portal, phone, address):
    path = upload(phone, b"x" * int(CHUNK["Content-Length"]))
    request = begun("PATCH", path, {**CHUNK, **phone.cookies})

    with idle(address, LINES, request, nginx.trusting().wrap_socket) as lines:
        longest = slowest(page_of(address), PAGES)
        told = answers(lines[PLACES * 2 :])
    sys.stdout.write(f"\nnginx, {LINES} uploads: slowest page {longest * 1000:.0f} ms\n")

    assert longest < LONGEST
    assert b"HTTP/1.1 503 Service Temporarily Unavailable" in told


def test_an_upload_and_a_form_with_a_photo_arrive_whole_through_nginx(portal, phone):
    content, other = photo(1), photo(2)
    path = upload(phone, content)
    at = {"Tus-Resumable": "1.0.0", "Upload-Offset": "0", "Content-Type": BYTES}
    assert phone.ask("PATCH", path, content, **at).status == 204
    phone.saved.append(hashlib.sha256(content).hexdigest())
    assert phone.send(other).status == 302

    portal.wait_until_done()
    assert portal.accounts([phone]) == WELL


def test_what_a_line_says_of_where_it_comes_from_goes_no_further(portal, phone):
    for number in (1, 2):
        forged = {"X-Forwarded-For": f"203.0.113.{number}"}
        form = f"csrfmiddlewaretoken={'k' * 32}&slip=QQQQ-QQQQ-QQQQ-QQQQ".encode()
        kind = {"Content-Type": FORM["Content-Type"]}
        assert phone.ask("POST", "/come-in/", form, **kind, **forged).status == 200

    places = portal.ask("SELECT DISTINCT key FROM people_knock WHERE kind = 'slip from source'")
    assert len(places) == 1


def test_forms_with_files_are_passed_on_as_they_come_and_none_is_too_large():
    passed_on = re.compile(re.search(r"location ~ (\S+) {", nginx.recipe())[1])
    child, token = {"child_pk": 1}, {"token": "t" * 20}
    with_files = [
        reverse("evidence:send", kwargs={**child, "date": "2026-11-30"}),
        reverse("evidence:post", kwargs={**child, "date": "2026-11-30"}),
        reverse("evidence:send-more", kwargs=token),
        reverse("assessment:voice-record", kwargs=token),
    ]
    assert [path for path in with_files if not passed_on.match(path)] == []
