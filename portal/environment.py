"""Reads what the operator has set: environment variables, each with its meaning and its check."""

import datetime as dt
import os
import secrets
from collections.abc import Callable
from pathlib import Path

from django.core.exceptions import ImproperlyConfigured

TRUE, FALSE = ("1", "true", "yes", "on"), ("0", "false", "no", "off", "")


def text(name: str, default: str = "") -> str:
    """Return the value of *name*, or of the file that NAME_FILE names, or *default*."""
    if path := os.environ.get(f"{name}_FILE"):
        try:
            return Path(path).read_text(encoding="utf-8").strip()
        except OSError as error:
            raise ImproperlyConfigured(f"{name}_FILE cannot be read: {error}") from error
    return os.environ.get(name, default)


def flag(name: str, default: bool = False) -> bool:
    """Return *name* as yes or no. Raises ImproperlyConfigured for any other word."""
    value = os.environ.get(name)
    if value is None:
        return default
    if value.lower() in TRUE:
        return True
    if value.lower() in FALSE:
        return False
    raise ImproperlyConfigured(f"{name} must be one of {TRUE + FALSE[:-1]}, not {value!r}.")


def choice(name: str, *words: str) -> str:
    """Return *name* as one of *words*, the first by default. Raises ImproperlyConfigured."""
    if (value := text(name, words[0])) not in words:
        raise ImproperlyConfigured(f"{name} must be one of {words}, not {value!r}.")
    return value


def number(name: str, default: int, *, low: int, high: int) -> int:
    """Return *name* as a whole number from *low* to *high*. Raises ImproperlyConfigured."""
    value = os.environ.get(name, str(default))
    if not value.isdecimal() or not low <= int(value) <= high:
        raise ImproperlyConfigured(f"{name} must be a number from {low} to {high}, not {value!r}.")
    return int(value)


def past_day(name: str) -> dt.date | None:
    """Return *name* as a day that has come by now; None where it is not set.

    Raises ImproperlyConfigured for any other word, and for a day to come.
    """
    if not (value := os.environ.get(name)):
        return None
    try:
        day = dt.date.fromisoformat(value)
    except ValueError as error:
        raise ImproperlyConfigured(f"{name} must look like 2026-11-28, not {value!r}.") from error
    if day > dt.datetime.now(dt.UTC).date():
        raise ImproperlyConfigured(f"{name} must be a day that has come, not {value}.")
    return day


def make_once(path: Path, make: Callable[[], bytes]) -> None:
    """Have what *make* gives lie at *path*, for the owner alone, unless something does already."""
    if path.exists():
        return
    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    fresh = path.with_suffix(f".{os.getpid()}")
    fresh.touch(mode=0o600)
    fresh.write_bytes(make())
    try:
        os.link(fresh, path)  # The first of two processes wins, and both read the winner's.
    except FileExistsError:
        pass
    finally:
        fresh.unlink()


def secret(name: str, folder: Path) -> str:
    """Return the secret *name*, made once and kept in *folder* where the operator sets none."""
    if value := text(name):
        if len(value) < 32:
            raise ImproperlyConfigured(f"{name} is too short: use at least 32 random characters.")
        return value
    path = folder / name.lower().replace("_", "-")
    make_once(path, lambda: secrets.token_urlsafe(48).encode("ascii"))
    return path.read_text(encoding="ascii")
