"""How many uploads one process takes in at a time, so that pages are served beside them."""

from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from threading import Lock

from evidence.uploads.tus.protocol import RequestError

DESKS = 40  # of the 64 threads that a web process has
DESKS_A_HOME = 4

lock = Lock()
taken: Counter[object] = Counter()


@contextmanager
def desk(whose: object) -> Iterator[None]:
    """Lend a place to write at to *whose* upload. Raises RequestError (503) when none is free.

    Clients wait a little after a 503 and come again; after a 429 they would give up.
    """
    with lock:
        if taken.total() >= DESKS or taken[whose] >= DESKS_A_HOME:
            raise RequestError(503)
        taken[whose] += 1
    try:
        yield
    finally:
        with lock:
            taken[whose] -= 1
            if not taken[whose]:
                del taken[whose]
