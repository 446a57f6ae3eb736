"""A script with those it imports, each in a scope of its own, as modules have it.

Our scripts use a small part of the language for this, so that it can be done by whole lines: what
is imported stands in the same folder and is named at the start of a line; what is exported is a
function, a class or a constant, and never changes.
"""

import posixpath
import re
from collections.abc import Mapping

IMPORT = re.compile(
    r'^import (?:(?P<what>\{ [\w, ]+ \}|\* as \w+) from )?"\./(?P<stem>[\w-]+)\.js";$',
    re.MULTILINE,
)
EXPORT = re.compile(r"^export (?P<kept>(?:(?:async )?function|class|const) (?P<name>\w+))", re.M)
LEFT = re.compile(r"^(?:import|export)\b.*$", re.MULTILINE)


def is_ours(name: str) -> bool:
    """Tell whether a static file is a script of ours; those of other makers stay as they are."""
    return name.endswith(".js") and not name.startswith("vendor/")


def whole(read: Mapping[str, str]) -> dict[str, str]:
    """Return each script of *read*, name → text, that imports others, with these in it.

    Raises KeyError with the name of a script that is imported and not there, ValueError for a line
    that imports or exports in another way, and for scripts that import each other.
    """
    return {name: _joined(name, read) for name, text in read.items() if IMPORT.search(text)}


def _joined(name: str, read: Mapping[str, str]) -> str:
    scopes: dict[str, str] = {}
    _scope(name, read, scopes, ())
    last = scopes.pop(name)
    return (
        "".join(
            f"const {_variable(each)} = (() => {{\n{body}\n{_returned(read[each])}\n}})();\n"
            for each, body in scopes.items()
        )
        + last
    )


def _scope(
    name: str, read: Mapping[str, str], scopes: dict[str, str], above: tuple[str, ...]
) -> None:
    """Add the body of a script to *scopes*, behind those of what it imports."""
    if name in above:
        raise ValueError(f"Scripts import each other: {' → '.join((*above, name))}.")
    folder = posixpath.dirname(name)
    for match in IMPORT.finditer(read[name]):
        imported = posixpath.join(folder, f"{match['stem']}.js")
        if imported not in scopes:
            _scope(imported, read, scopes, (*above, name))
    body = IMPORT.sub(_taken, EXPORT.sub(r"\g<kept>", read[name]))
    if left := LEFT.search(body):
        raise ValueError(f"{name}: {left[0]!r} cannot be joined; import and export as others do.")
    scopes[name] = body


def _taken(match: re.Match[str]) -> str:
    if not match["what"]:
        return ""
    return f"const {match['what'].removeprefix('* as ')} = {_variable(match['stem'])};"


def _variable(name: str) -> str:
    """Return what holds a script's exports: no name of ours begins with the same sign."""
    return "$" + posixpath.basename(name).removesuffix(".js").replace("-", "_")


def _returned(text: str) -> str:
    return f"return {{ {', '.join(match['name'] for match in EXPORT.finditer(text))} }};"
