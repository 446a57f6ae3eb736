"""Charts drawn as SVG, on the server: told by words and lengths, never by colour alone.

Pure: takes plain values, gives text. Whoever shows one puts the same values beside it as a table.
Lengths are in units of the drawing, one of them a CSS pixel where the chart is shown whole.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape

COLUMN, GAP, HIGH, FOOT, TOP = 30, 10, 140, 44, 20
LEFT = 34


@dataclass(frozen=True, slots=True)
class Bar:
    """One bar: its name, how much, and out of how much (None: of nothing in particular)."""

    name: str
    value: int
    of: int | None = None


def columns(title: str, bars: Sequence[Bar]) -> str:
    """Draw *bars* as columns from left to right, each in an outline as high as what it is out of.

    All columns share one scale. Names stand below, slanted so that long runs stay readable.
    """
    most = max([max(bar.value, bar.of or 0) for bar in bars], default=0) or 1
    width = LEFT + len(bars) * (COLUMN + GAP)
    base = TOP + HIGH
    marks = [
        *_scale(most, width),
        *(mark for place, bar in enumerate(bars) for mark in _column(place, bar, most)),
        f'<line class="axis" x1="{LEFT}" y1="{base}" x2="{width}" y2="{base}"/>',
    ]
    return _drawing(title, width, base + FOOT, marks)


def _column(place: int, bar: Bar, most: int) -> list[str]:
    x = LEFT + GAP / 2 + place * (COLUMN + GAP)
    base, middle = TOP + HIGH, x + COLUMN / 2
    high = _share(bar.value, most, HIGH)
    whole = _share(bar.of or 0, most, HIGH)
    outline = (
        f'<rect class="whole" x="{x:g}" y="{base - whole:g}" width="{COLUMN}" height="{whole:g}"/>'
    )
    return [
        *([outline] if bar.of else []),
        f'<rect class="bar" x="{x:g}" y="{base - high:g}" width="{COLUMN}" height="{high:g}"/>',
        _text(middle, base - high - 5, str(bar.value), "middle"),
        f'<text x="{middle:g}" y="{base + 14}" text-anchor="end" '
        f'transform="rotate(-40 {middle:g} {base + 14})">{escape(bar.name)}</text>',
    ]


def _scale(most: int, width: int) -> list[str]:
    """Draw the lines of nothing, half and all; half only where it is a whole number."""
    levels = [most] if most % 2 else [most // 2, most]
    marks = []
    for level in levels:
        y = TOP + HIGH - _share(level, most, HIGH)
        marks.append(f'<line class="level" x1="{LEFT}" y1="{y:g}" x2="{width}" y2="{y:g}"/>')
        marks.append(_text(LEFT - 6, y + 4, str(level), "end"))
    return marks


def _share(value: int, most: int, length: int) -> float:
    return round(length * value / most, 2)


def _text(x: float, y: float, words: str, anchor: str) -> str:
    return f'<text x="{x:g}" y="{y:g}" text-anchor="{anchor}">{escape(words)}</text>'


def _drawing(title: str, width: float, height: float, marks: Sequence[str]) -> str:
    return (
        f'<svg class="chart" role="img" aria-label="{escape(title)}" width="{width:g}" '
        f'height="{height:g}" viewBox="0 0 {width:g} {height:g}" '
        f'xmlns="http://www.w3.org/2000/svg">{"".join(marks)}</svg>'
    )
