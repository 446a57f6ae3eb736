"""Taking other children's names out of what was written, before it is handed out."""

import re
from collections.abc import Iterable
from typing import Any

SOMEBODY = "[another child]"
# Names that are words too: written small they stay, or half of every note would go.
WORDS = frozenset(
    [
        *("amber", "angel", "april", "art", "august", "autumn", "bill", "blue", "chase", "clay"),
        *("daisy", "dawn", "dean", "drew", "earl", "eve", "faith", "forest", "frank", "gene"),
        *("grace", "grant", "guy", "hazel", "heather", "holly", "hope", "iris", "ivy", "jack"),
        *("jade", "joy", "june", "kit", "king", "lane", "lily", "mark", "max", "may"),
        *("mercy", "miles", "olive", "pat", "pearl", "poppy", "precious", "prince", "ray", "reed"),
        *("rich", "river", "rob", "robin", "rose", "ruby", "sage", "sandy", "sky", "skye"),
        *("spring", "star", "summer", "sunny", "teddy", "tilly", "violet", "will", "winter"),
    ]
)


class Redactor:
    """Puts SOMEBODY in the place of every name it was given."""

    def __init__(self, names: Iterable[str]) -> None:
        """Take *names*: first names, of any number of words."""
        known = sorted({name.strip() for name in names if name.strip()}, key=len, reverse=True)
        small = [re.escape(name) for name in known if name.casefold() in WORDS]
        others = [re.escape(name) for name in known if name.casefold() not in WORDS]
        parts = [rf"(?i:{'|'.join(others)})"] if others else []
        parts += [rf"(?:{'|'.join(small)})"] if small else []
        self.pattern = re.compile(rf"\b(?:{'|'.join(parts)})\b") if parts else None

    def text(self, text: str) -> str:
        """Return *text* without the names.

        >>> Redactor(["Ben", "Will"]).text("Ben's turn: ben and Will will go")
        "[another child]'s turn: [another child] and [another child] will go"
        """
        return self.pattern.sub(SOMEBODY, text) if self.pattern else text

    def value(self, value: Any) -> Any:
        """Return *value*, as JSON holds it, without the names in any of its texts."""
        if isinstance(value, str):
            return self.text(value)
        if isinstance(value, list):
            return [self.value(each) for each in value]
        if isinstance(value, dict):
            return {key: self.value(each) for key, each in value.items()}
        return value
