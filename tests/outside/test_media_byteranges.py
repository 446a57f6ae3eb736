"""Ranges of a file are read as the standard for HTTP reads them.

Source: RFC 9110 (HTTP Semantics), sections 13.1.5 and 14, and the examples of 14.1.2 and 14.4.
"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evidence.media.byteranges import (
    MOST_RANGES,
    Answer,
    ByteRange,
    select,
    unsatisfied_content_range,
)

SIZE = 10_000
TAG = '"a1b2"'
DATE = "Wed, 25 Nov 2026 09:30:00 GMT"

ONE_RANGE = [
    ("bytes=0-499", "bytes 0-499/10000"),
    ("bytes=500-999", "bytes 500-999/10000"),
    ("bytes=-500", "bytes 9500-9999/10000"),
    ("bytes=9500-", "bytes 9500-9999/10000"),
    ("bytes=0-1", "bytes 0-1/10000"),
    ("bytes=9500-99999", "bytes 9500-9999/10000"),
    ("bytes=-20000", "bytes 0-9999/10000"),
    ("bytes=0-99999999999999999999999", "bytes 0-9999/10000"),
    ("Bytes=0-0", "bytes 0-0/10000"),
    ("bytes=20000-,0-0", "bytes 0-0/10000"),
    (f"bytes=0-{'9' * 6000}", "bytes 0-9999/10000"),
]

SEVERAL_RANGES = [
    ("bytes=0-0,-1", [(0, 0), (9999, 9999)]),
    ("bytes= 0-999, 4500-5499, -1000", [(0, 999), (4500, 5499), (9000, 9999)]),
    ("bytes=500-600,601-999", [(500, 600), (601, 999)]),
    ("bytes=,0-0,,5-6,", [(0, 0), (5, 6)]),
]

IGNORED = [
    "bytes=5-2",
    "bytes=abc",
    "bytes=-",
    "bytes=",
    "bytes=,",
    "bytes 0-499",
    "bytes=0-499;500-999",
    "bytes=0x0-1",
    "bytes=٠-٩",
    "lines=1-2",
    "",
]


@pytest.mark.parametrize(("header", "content_range"), ONE_RANGE)
def test_one_range_is_sent_as_asked(header, content_range):
    selection = select(header, SIZE)

    assert selection.answer is Answer.ONE
    assert selection.ranges[0].content_range(SIZE) == content_range


def test_the_first_probe_of_a_phone_gets_exactly_two_bytes():
    assert len(select("bytes=0-1", SIZE).ranges[0]) == 2


@pytest.mark.parametrize(
    ("header", "content_range"),
    [
        ("bytes=0-499", "bytes 0-499/1234"),
        ("bytes=500-999", "bytes 500-999/1234"),
        ("bytes=500-", "bytes 500-1233/1234"),
        ("bytes=-500", "bytes 734-1233/1234"),
    ],
)
def test_the_examples_of_the_standard_for_a_file_of_1234_bytes(header, content_range):
    assert select(header, 1234).ranges[0].content_range(1234) == content_range


@pytest.mark.parametrize(("header", "ranges"), SEVERAL_RANGES)
def test_a_few_ranges_that_do_not_overlap_are_sent_in_the_order_asked(header, ranges):
    selection = select(header, SIZE)

    assert selection.answer is Answer.SEVERAL
    assert selection.ranges == tuple(ByteRange(*pair) for pair in ranges)


def test_overlapping_ranges_get_the_whole_file():
    assert select("bytes=500-700,601-999", SIZE).answer is Answer.WHOLE


def test_more_than_a_few_ranges_get_the_whole_file():
    header = "bytes=" + ",".join(f"{at * 10}-{at * 10}" for at in range(MOST_RANGES + 1))

    assert select(header, SIZE).answer is Answer.WHOLE


@pytest.mark.parametrize("header", ["bytes=10000-", "bytes=-0", "bytes=10000-10001,-0"])
def test_a_range_past_the_end_is_not_satisfiable(header):
    assert select(header, SIZE).answer is Answer.UNSATISFIABLE
    assert unsatisfied_content_range(SIZE) == "bytes */10000"


@pytest.mark.parametrize("header", IGNORED)
def test_a_header_that_is_no_valid_range_of_bytes_is_ignored(header):
    assert select(header, SIZE).answer is Answer.WHOLE


@pytest.mark.parametrize("method", ["HEAD", "POST"])
def test_only_get_knows_ranges(method):
    assert select("bytes=0-499", SIZE, method=method).answer is Answer.WHOLE


@pytest.mark.parametrize(
    ("if_range", "answer"),
    [
        (TAG, Answer.ONE),
        ('"other"', Answer.WHOLE),
        (f"W/{TAG}", Answer.WHOLE),
        (DATE, Answer.ONE),
        ("Wed, 25 Nov 2026 09:30:01 GMT", Answer.WHOLE),
        ("", Answer.WHOLE),
    ],
)
def test_a_range_holds_only_while_the_file_is_the_same(if_range, answer):
    selection = select("bytes=0-1", SIZE, if_range=if_range, etag=TAG, last_modified=DATE)

    assert selection.answer is answer


def test_a_weak_tag_of_the_file_never_matches():
    selection = select("bytes=0-1", SIZE, if_range=f"W/{TAG}", etag=f"W/{TAG}")

    assert selection.answer is Answer.WHOLE


@pytest.mark.parametrize("header", ["bytes=0-0", "bytes=0-", "bytes=-1"])
def test_no_range_of_an_empty_file_is_satisfiable(header):
    assert select(header, 0).answer is Answer.UNSATISFIABLE


@given(st.text(alphabet="bytes=-, 0123456789\t", max_size=40), st.integers(0, 2000))
def test_whatever_is_asked_every_range_lies_within_the_file(text, size):
    selection = select(f"bytes={text}", size)

    assert all(0 <= one.first <= one.last < size for one in selection.ranges)
    assert sum(len(one) for one in selection.ranges) <= size
