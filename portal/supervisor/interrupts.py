"""Ctrl-C before the launcher watches over anything.

Python answers it by KeyboardInterrupt, wherever the program is: also within a library that takes
any error, or a call whose errors are dropped. Then it would be lost, and the start go on.
"""

import signal
from types import FrameType

_heard: list[int] = []


def listen() -> None:
    """From now on remember that the program was told to end, and stop what it is at."""
    for number in (signal.SIGINT, signal.SIGTERM):
        if signal.getsignal(number) is not signal.SIG_IGN:  # as nohup wants it
            signal.signal(number, _hear)


def were_heard() -> bool:
    """Tell whether the program was told to end since `listen`."""
    return bool(_heard)


def _hear(number: int, _frame: FrameType | None) -> None:
    _heard.append(number)
    raise KeyboardInterrupt
