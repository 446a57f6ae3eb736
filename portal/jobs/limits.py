"""A limit in all for a call that leaves the process, whatever it waits for."""

from collections.abc import Callable
from queue import Empty, SimpleQueue
from threading import Thread
from typing import Any, TypeVar

Answer = TypeVar("Answer")


def within(seconds: float, ask: Callable[..., Answer], *arguments: Any) -> Answer:
    """Give what *ask* gives, or raise what it raises. Raises TimeoutError after *seconds*.

    For calls whose own limits count anew with every byte, or that have none, as the look-up of a
    name. A call that is given up goes on by itself until it ends: it must touch no database.
    """
    outcome: SimpleQueue[tuple[Answer | None, BaseException | None]] = SimpleQueue()

    def run() -> None:
        try:
            outcome.put((ask(*arguments), None))
        except BaseException as error:
            outcome.put((None, error))

    Thread(target=run, daemon=True).start()
    try:
        answer, error = outcome.get(timeout=seconds)
    except Empty:
        raise TimeoutError(f"no answer within {seconds} seconds") from None
    if error is not None:
        raise error
    return answer  # type: ignore[return-value] # where there is no error there is an answer
