"""Lines of the log: which request or job, what happened, and ids; never words of people.

Others' messages are not ours to vouch for: their numbers are kept, their words and addresses left
out. An error is written with its type and places in the code, not with its own words, which may
hold what somebody typed.
"""

import contextvars
import json
import logging
import secrets
import time
import traceback
from collections.abc import Callable
from typing import Any

from celery import current_task
from django.http import HttpRequest, HttpResponse

asking: contextvars.ContextVar[HttpRequest | None] = contextvars.ContextVar("asking", default=None)
# Their messages are known to hold ids alone.
TRUSTED = ("portal", "tasks", "evidence", "assessment", "celery.beat", "celery.worker.consumer")
LEFT_OUT = "…"


class RequestInLogs:
    """Give each request an id, and let every line that is logged meanwhile carry it."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        request.id = secrets.token_hex(8)
        token = asking.set(request)
        try:
            response = self.get_response(request)
        finally:
            asking.reset(token)
        response.headers.setdefault("X-Request-Id", request.id)
        return response


def what_is_done() -> dict[str, str]:
    """Return the id of the request, or the name and id of the job, that is being worked on."""
    if request := asking.get():
        return {"request": request.id}
    if current_task and current_task.request.id:
        return {"request": current_task.request.id, "job": current_task.name}
    return {"request": "-"}


def message_of(record: logging.LogRecord) -> str:
    """Return what may be said of *record*."""
    if request := getattr(record, "request", None):
        return about_request(record, request)
    if isinstance(data := getattr(record, "data", None), dict) and "description" in data:
        return f"job {data.get('name')} {data.get('id')} {data['description']}"
    if is_trusted(record.name):
        return record.getMessage()
    try:
        return record.msg % without_words(record.args) if record.args else LEFT_OUT
    except (TypeError, ValueError):
        return LEFT_OUT


def about_request(record: logging.LogRecord, request: Any) -> str:
    """Name the page and not its address: that may carry an invitation."""
    match = getattr(request, "resolver_match", None)
    page = match.view_name if match else "no page"
    return f"{getattr(record, 'status_code', '')} {getattr(request, 'method', '')} {page}".strip()


def is_trusted(logger: str) -> bool:
    """Whether the messages of *logger* hold ids alone."""
    return any(logger == name or logger.startswith(f"{name}.") for name in TRUSTED)


def without_words(args: Any) -> Any:
    """Keep the numbers among the arguments of a message."""
    if isinstance(args, dict):
        return {name: only_numbers(value) for name, value in args.items()}
    return tuple(only_numbers(value) for value in args)


def only_numbers(value: object) -> object:
    """Return a number as it is, and of anything else nothing."""
    return value if isinstance(value, int | float) else LEFT_OUT


def places_of(error: BaseException) -> list[str]:
    """Return the types of *error* and of its causes, each with where it went through the code."""
    lines = []
    seen: BaseException | None = error
    while seen is not None:
        lines.append(f"{type(seen).__module__}.{type(seen).__qualname__}")
        lines += [
            f"  {frame.filename}:{frame.lineno} {frame.name}"
            for frame in traceback.extract_tb(seen.__traceback__)
        ]
        seen = seen.__cause__ or seen.__context__
    return lines


class PlainLines(logging.Formatter):
    """A line for people: time, level, request, logger, what happened."""

    def format(self, record: logging.LogRecord) -> str:
        """Return *record* as a line, and below it where an error went through."""
        done = what_is_done()
        head = f"{self.formatTime(record)} {record.levelname} [{done['request']}] {record.name}"
        lines = [f"{head} {message_of(record)}"]
        if record.exc_info and record.exc_info[1]:
            lines += places_of(record.exc_info[1])
        return "\n".join(lines)


class JsonLines(logging.Formatter):
    """A line for programs: one JSON object."""

    converter = staticmethod(time.gmtime)
    default_time_format = "%Y-%m-%dT%H:%M:%S"
    default_msec_format = "%s.%03dZ"

    def format(self, record: logging.LogRecord) -> str:
        """Return *record* as one JSON object, its time in UTC."""
        entry: dict[str, object] = {
            "at": self.formatTime(record),
            "level": record.levelname.lower(),
            "logger": record.name,
            **what_is_done(),
            "message": message_of(record),
        }
        if record.exc_info and record.exc_info[1]:
            entry["error"] = places_of(record.exc_info[1])
        return json.dumps(entry, ensure_ascii=False)
