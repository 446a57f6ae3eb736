"""Turns statements written with markup into plain text."""

import re
from html.parser import HTMLParser

INLINE_NAMES = (
    "a abbr b bdi bdo big cite code em font i kbd mark q s small span strong sub sup tt u var wbr"
)
BLOCK_NAMES = (
    "address article aside audio base blockquote body br button canvas caption center col colgroup "
    "data dd del details dfn dialog div dl dt embed fieldset figcaption figure footer form frame "
    "frameset h1 h2 h3 h4 h5 h6 head header hr html img input ins label legend li link main map "
    "marquee math meta meter nav ol optgroup option output p param picture pre progress samp "
    "section select source strike sub summary table tbody td textarea tfoot th thead time title "
    "tr track ul video"
)
DROPPED_WHOLE = frozenset({"script", "style", "template", "noscript", "iframe", "object", "svg"})
INLINE = frozenset(INLINE_NAMES.split())
TAGS = INLINE | frozenset(BLOCK_NAMES.split())
CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]")


def plain_text(markup: str) -> str:
    """Return the words of *markup*: no tags, scripts or control characters, single spaces.

    A sign between numbers stays: only names that are tags are taken for tags.

    >>> plain_text("<p>Count to <b>10</b>&nbsp;&amp; on</p><script>x()</script>")
    'Count to 10 & on'
    >>> plain_text("knows 3<4 and 5 > 4")
    'knows 3<4 and 5 > 4'
    """
    words = _Words()
    words.feed(markup)
    words.close()
    return " ".join(CONTROL.sub("", "".join(words.kept)).split())


class _Words(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.kept: list[str] = []
        self.within: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag in DROPPED_WHOLE:
            self.within.append(tag)
        elif tag in TAGS or "-" in tag or any(value is not None for _, value in attrs):
            self._gap(tag)
        else:
            self.handle_data(self.get_starttag_text() or "")

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag not in DROPPED_WHOLE:
            self.handle_starttag(tag, attrs)

    def handle_endtag(self, tag: str) -> None:
        if tag in self.within:
            while self.within.pop() != tag:
                pass
        else:
            self._gap(tag)

    def handle_data(self, data: str) -> None:
        if not self.within:
            self.kept.append(data)

    def _gap(self, tag: str) -> None:
        if tag not in INLINE:
            self.kept.append(" ")
