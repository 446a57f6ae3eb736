"""What of a request has to be there before it is worth a thread, read off its first bytes."""

import math
import re

SMALL = 1 << 16  # bytes of a body that is waited for, and that is taken from strangers
LONGEST_HEAD = 1 << 16
UPLOADS = b"/send/uploads/"  # taken in as they come, so that a cut line loses nothing

END_OF_HEAD = b"\r\n\r\n"
LENGTH = re.compile(rb"\r\ncontent-length:[ \t]*(\d+)[ \t]*\r\n", re.IGNORECASE)
OPEN_ENDED = re.compile(rb"\r\ntransfer-encoding:", re.IGNORECASE)
EXPECTS = re.compile(rb"\r\nexpect:[ \t]*100-continue[ \t]*\r\n", re.IGNORECASE)


def head_of(seen: bytes | bytearray) -> bytes | None:
    """Return the head that *seen* begins with, with its empty line; None while it is not whole."""
    end = seen.find(END_OF_HEAD)
    return None if end < 0 else bytes(seen[: end + len(END_OF_HEAD)])


def body_length(head: bytes) -> float:
    """Return how many bytes of body come after *head*; infinity where that is not said."""
    if OPEN_ENDED.search(head):
        return math.inf
    found = LENGTH.search(head)
    return int(found[1]) if found else 0


def body_awaited(head: bytes) -> int:
    """Return how many bytes of body are waited for after *head*.

    That is the whole of a small one. A large one, one whose length is not said, and an upload are
    for the page itself to take in or to refuse.
    """
    target = head.partition(b"\r\n")[0].split(b" ")[1:2]
    length = body_length(head)
    if length > SMALL or (target and target[0].startswith(UPLOADS)):
        return 0
    return int(length)


def wants_to_be_asked(head: bytes) -> bool:
    """Whether the body comes only once it has been asked for. RFC 9110, section 10.1.1."""
    return EXPECTS.search(head) is not None
