"""A sheet of styles with those it imports in their place."""

import re
from collections.abc import Mapping

# Our sheets name each other in this way only: by the whole way, which holds wherever it is read.
IMPORT = re.compile(r'^@import "/static/(?P<name>[^"]+\.css)";$', re.MULTILINE)


def is_ours(name: str) -> bool:
    """Tell whether a static file may import others as our sheets do, or be imported."""
    return name.endswith(".css")


def whole(read: Mapping[str, str]) -> dict[str, str]:
    """Return each sheet of *read*, name → text, that imports others, with these in it.

    Raises KeyError with the name of a sheet that is imported and not there.
    """
    return {name: _with_imports(name, read) for name, text in read.items() if IMPORT.search(text)}


def _with_imports(name: str, read: Mapping[str, str]) -> str:
    return IMPORT.sub(lambda match: _with_imports(match["name"], read), read[name])
