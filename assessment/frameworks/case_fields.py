"""Reads single fields of a CASE package, in the shapes other people write them."""

from collections.abc import Iterator, Mapping
from typing import Any

from .framework import FrameworkError
from .plaintext import plain_text

Record = Mapping[str, Any]


def records(package: Record, field: str, most: int) -> list[Record]:
    """Return the objects listed under *field*, none when it is absent.

    Raises FrameworkError for anything but a list of at most *most* objects.
    """
    found = package.get(field) or []
    if not isinstance(found, list):
        raise FrameworkError(f"{field}: not a list; give a list of objects.")
    if len(found) > most:
        raise FrameworkError(f"{field}: {len(found)} entries; the most that is read is {most}.")
    for place, entry in enumerate(found):
        if not isinstance(entry, dict):
            raise FrameworkError(f"{field}[{place}]: not an object; give one with named fields.")
    return found


def words(record: Record, *fields: str) -> str:
    """Return the first of *fields* that holds text, as plain text; empty when none does."""
    for field in fields:
        value = record.get(field)
        if isinstance(value, list):
            value = ", ".join(entry for entry in value if isinstance(entry, str))
        if isinstance(value, int | float) and not isinstance(value, bool):
            value = str(value)
        if isinstance(value, str) and (text := plain_text(value)):
            return text
    return ""


def listed(record: Record, field: str) -> list[str]:
    """Return the texts under *field*, whether written as a list or parted by commas or bars."""
    value = record.get(field)
    if isinstance(value, str):
        value = value.replace("|", ",").split(",")
    if not isinstance(value, list):
        return []
    return [entry.strip() for entry in value if isinstance(entry, str) and entry.strip()]


def names(value: Any) -> Iterator[str]:
    """Yield every name a node goes by: identifier, address, and the last part of the address.

    value: an object with identifier and uri, or a plain string of either sort.
    """
    if isinstance(value, str):
        yield from _forms(value)
    elif isinstance(value, Mapping):
        for field in ("identifier", "uri"):
            if isinstance(value.get(field), str):
                yield from _forms(value[field])


def _forms(text: str) -> Iterator[str]:
    text = text.strip().lower().removeprefix("urn:uuid:").rstrip("/")
    if text:
        yield text
        yield text.rsplit("/", 1)[-1]
