"""The labels of a page: headings, buttons, links, names of fields, heads of tables."""

import re
from html.parser import HTMLParser

WHAT = {
    **{f"h{level}": "heading" for level in range(1, 5)},
    "button": "button",
    "summary": "button",
    "a": "link",
    "th": "table head",
    "label": "field",
    "legend": "field",
    "option": "choice",
    "caption": "table head",
}
ORDER = ("heading", "button", "link", "field", "choice", "table head")
MONTH = "January|February|March|April|May|June|July|August|September|October|November|December"
DAY = "(?:Mon|Tues|Wednes|Thurs|Fri|Satur|Sun)day"
SHORT = "Mon|Tue|Wed|Thu|Fri|Sat|Sun|Jan|Feb|Mar|Apr|Jun|Jul|Aug|Sept?|Oct|Nov|Dec"
DATED = re.compile(rf"\b(?:{DAY}|{MONTH}|{SHORT})\b")


class Labels(HTMLParser):
    """Gathers (what, words) of a page, in the order of the page."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.found: list[tuple[str, str]] = []
        self._open: list[tuple[str, list[str]]] = []
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag in WHAT:
            said = dict(attrs).get("aria-label")
            self._open.append((tag, [said] if said else []))

    def handle_endtag(self, tag: str) -> None:
        if tag in WHAT and self._open and self._open[-1][0] == tag:
            _tag, words = self._open.pop()
            if text := " ".join(" ".join(words).split()):
                self.found.append((WHAT[tag], text))

    def handle_data(self, data: str) -> None:
        for _tag, words in self._open:
            words.append(data)


def labels_of(page: str, names: set[str]) -> dict[str, list[str]]:
    """Give the labels of *page* by what they are, each once; *names* of people and dates masked."""
    found: dict[str, dict[str, None]] = {what: {} for what in ORDER}
    for what, words in Labels(page).found:
        found[what][masked(words, names)] = None
    return {what: list(words) for what, words in found.items() if words}


def masked(words: str, names: set[str]) -> str:
    """Put … for names, days and numbers: what is said counts here, and not of whom.

    >>> masked("Ada I, Monday 23 November: half of 8", {"Ada I"})
    '…, … half of …'
    """
    for name in sorted(names, key=len, reverse=True):
        words = re.sub(rf"\b{re.escape(name)}\b", "…", words)
    words = re.sub(r"\d[\d:,./]*", "…", DATED.sub("…", words))
    return re.sub(r"…(?:[ ,:–-]*…)+:?", "…", words)
