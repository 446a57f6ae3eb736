"""What a request has to have sent before it is worth a thread."""

import re
from importlib.metadata import version

import pytest
from django.urls import reverse
from gunicorn import http
from gunicorn.config import Config
from hypothesis import given
from hypothesis import strategies as st

from portal.supervisor.whole import SMALL, UPLOADS, body_awaited, body_length, head_of

READ_WITH = "27.0.1"


def head(method: str, path: str, *lines: str) -> bytes:
    return "\r\n".join([f"{method} {path} HTTP/1.1", "Host: a", *lines, "", ""]).encode()


def test_the_web_server_is_the_version_that_its_worker_was_written_for():
    found = version("gunicorn")
    assert found == READ_WITH, (
        f"portal/supervisor/patient.py rests on methods of gunicorn {READ_WITH} that are no "
        f"promise, and here is {found}: read its gthread.py and parser anew, run "
        "tests/faults/test_idle_lines.py, and then write the new version here."
    )


def test_uploads_lie_where_the_worker_looks_for_them():
    assert reverse("evidence:uploads").encode() == UPLOADS


@pytest.mark.parametrize(
    ("request_head", "awaited"),
    [
        (head("GET", "/"), 0),
        (head("POST", "/", "Content-Length: 7"), 7),
        (head("POST", "/", f"content-LENGTH:\t{SMALL} "), SMALL),
        (head("POST", "/", f"Content-Length: {SMALL + 1}"), 0),
        (head("POST", "/", "Transfer-Encoding: chunked"), 0),
        (head("PATCH", "/send/uploads/abc/", "Content-Length: 7"), 0),
        (head("POST", "/send/uploads/", "Content-Length: 7"), 0),
        (head("POST", "/?next=/send/uploads/", "Content-Length: 7"), 7),
        (head("POST", "/", "X: Content-Length: 7"), 0),
    ],
)
def test_a_small_body_is_waited_for_and_nothing_else(request_head, awaited):
    assert body_awaited(request_head) == awaited


def test_a_head_is_whole_at_its_empty_line():
    whole = head("POST", "/", "Content-Length: 7")
    assert head_of(whole + b"abc") == whole
    assert head_of(whole[:-1]) is None


NAMES = st.sampled_from(["Content-Length", "content-length", "Content_Length", "X", "Expect "])
VALUES = st.text("0123456789+-, \tx²", max_size=6)


@given(st.lists(st.tuples(NAMES, VALUES), max_size=3))
def test_the_length_is_read_as_the_server_reads_it(lines):
    """Else a thread would wait for a body that the worker thought was there."""
    told = head("POST", "/", *(f"{name}:{value}" for name, value in lines))
    parser = http.get_parser(Config(), iter([told]), ("127.0.0.1", 1))
    try:
        request = next(parser)
    except http.errors.ParseException:
        return
    assert body_length(told) == request.body.reader.length


def test_the_document_for_operators_names_the_worker():
    from portal.supervisor.supervisor import PATIENT, ROOT

    text = (ROOT / "portal/operations/docs/running.md").read_text(encoding="utf-8")
    assert re.search(rf"gunicorn portal.wsgi --worker-class {re.escape(PATIENT)} ", text)
