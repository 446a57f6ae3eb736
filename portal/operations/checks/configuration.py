"""Whether the settings are fit for real families."""

from collections.abc import Iterator

from django.conf import settings
from django.core.checks import ERROR, WARNING, run_checks

from portal.operations.checks.lines import Line, bad, look, ok
from portal.operations.checks.safety import LOCAL, unsafe_settings
from portal.operations.hooks import lacks
from portal.supervisor import broker


def check_settings() -> Iterator[Line]:
    """Yield what `serve` would refuse to start with, and what is only odd."""
    try:
        unsafe = unsafe_settings(settings, broker.choose())
    except broker.NoBrokerError as error:
        unsafe = [str(error)]
    for sentence in unsafe:
        yield bad("settings", sentence)
    if not unsafe:
        yield ok("settings", "No setting is unsafe.")
    if settings.TLS and not settings.BEHIND_PROXY:
        yield look(
            "settings",
            "BEHIND_PROXY is not set. Set it to 1 if the server in front sets X-Forwarded-Proto; "
            "else every page leads to itself.",
        )
    if not settings.TLS and settings.SITE_HOST in LOCAL:
        yield look("settings", "SITE_URL is this machine alone: nobody elsewhere can come in.")


def check_system() -> Iterator[Line]:
    """Yield what this system lacks."""
    found = list(lacks())
    for lack in found:
        yield (bad if lack.is_grave else look)("system", lack.words)
    if not found:
        yield ok(
            "system", "It has all that is needed, also walls round what opens strangers' files."
        )


def check_framework() -> Iterator[Line]:
    """Yield what Django's own deployment checks say."""
    found = run_checks(include_deployment_checks=True)
    loud = [message for message in found if message.level >= WARNING and not message.is_silenced()]
    for message in loud:
        words = f"{message.msg} {message.hint or ''}".strip()
        yield (bad if message.level >= ERROR else look)(f"Django {message.id}", words)
    if not loud:
        yield ok("Django", "Its deployment checks find nothing.")
