"""The C library, for calls that Python has no name for."""

import ctypes
import functools
import os


@functools.cache
def libc() -> ctypes.CDLL:
    """Return the C library of this process."""
    return ctypes.CDLL(None, use_errno=True)


def why_not(answer: int) -> str:
    """Return "" for the *answer* of a call that did as it was asked, else what the kernel says."""
    return "" if answer >= 0 else f"the kernel says: {os.strerror(ctypes.get_errno())}"
