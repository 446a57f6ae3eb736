"""Whether jobs are done: broker, worker, beat, and what is stuck."""

from collections.abc import Iterator

from celery import current_app
from kombu.exceptions import OperationalError

from portal.operations.checks.lines import Line, bad, in_words, look, ok
from portal.operations.hooks import app_figures
from portal.operations.metrics import BrokerAwayError, queue_lengths
from portal.operations.models import Mark

LATE = 180.0  # seconds; the beat sends the job that is looked for every minute
MANY = 500  # jobs waiting


def check_broker() -> Iterator[Line]:
    """Yield whether the broker answers, how much waits there, and whether a worker listens."""
    try:
        waiting = sum(queue_lengths().values())
    except BrokerAwayError:
        yield bad("broker", "It does not answer. Start it; see REDIS_URL. Nothing is lost.")
        return
    words = f"It answers; {waiting} jobs wait."
    yield look("broker", f"{words} Start more workers.") if waiting > MANY else ok("broker", words)
    yield from check_workers()


def check_workers() -> Iterator[Line]:
    """Yield whether any worker answers the broker."""
    try:
        answers = current_app.control.ping(timeout=2.0)
    except (OperationalError, OSError):
        answers = []
    if answers:
        yield ok("worker", f"{len(answers)} answer.")
    else:
        yield bad("worker", "None answers. Start one: celery --app portal worker")


def check_beat() -> Iterator[Line]:
    """Yield whether a job that the beat sends every minute was done lately."""
    age = Mark.ages().get(Mark.Name.TICK)
    if age is None or age > LATE:
        when = f"{in_words(age)} ago" if age is not None else "never"
        yield bad(
            "beat",
            f"Its last job was done {when}. If a worker answers, start the beat: "
            "celery --app portal beat, exactly one.",
        )
    else:
        yield ok("beat", f"Its last job was done {in_words(age)} ago.")


def check_figures() -> Iterator[Line]:
    """Yield what the apps find stuck."""
    for figure in app_figures():
        if figure.limit is None:
            continue
        said = in_words if figure.name.endswith("_seconds") else whole
        about = figure.name.removesuffix("_seconds").replace("_", " ")
        words = f"{figure.words} Now {said(figure.value)}, at most {said(figure.limit)}."
        yield bad(about, f"{words} {figure.advice}") if figure.is_bad else ok(about, words)


def whole(count: float) -> str:
    """Write a count."""
    return str(int(count))
