"""Charts drawn as SVG, on the server: told by words and lengths, never by colour alone.

Pure: takes plain values, gives text. Whoever shows one puts the same values beside it as a table.
Lengths are in units of the drawing, one of them a CSS pixel where the chart is shown whole.
"""

from collections.abc import Sequence
from html import escape

COLUMN, GAP, HIGH, FOOT, TOP = 13, 4, 140, 24, 12
LEFT, BETWEEN = 34, 12
# What became of a day's work, each by a filling of its own; "sent" is the one that is solid.
FILLINGS = {
    "could-not": '<path d="M-1 7L7 -1M1 9L9 1"/>',
    "on-paper": '<path d="M0 2H8M0 6H8"/>',
    "not-come-in": '<circle cx="4" cy="4" r="1.1"/>',
}
MARKS = {
    "sent": '<rect class="sent" x="1" y="1" width="18" height="18"/>',
    "could-not": '<path d="M1 1H19V19H1ZM1 10L10 1M1 19L19 1M10 19L19 10"/>',
    "on-paper": '<path d="M4 1H16V19H4ZM7 6H13M7 10H13M7 14H13"/>',
    "not-come-in": '<path stroke-dasharray="2 3" d="M1 1H19V19H1Z"/>',
    "silent": '<circle cx="10" cy="10" r="9"/>',
    "not-over": '<path d="M6 10H14"/>',
}

Stack = Sequence[tuple[str, int]]  # what a column is made of, from its foot up


def stacks(title: str, groups: Sequence[Sequence[Stack]], names: Sequence[str]) -> str:
    """Draw columns of parts in groups from left to right, each group named at its foot.

    All columns share one scale. A part is told by its filling: solid, or one of FILLINGS; what
    has none is an empty outline.
    """
    most = max((sum(n for _part, n in stack) for group in groups for stack in group), default=0)
    marks, x = [], float(LEFT + GAP)
    for name, group in zip(names, groups, strict=True):
        marks.append(_text(x, TOP + HIGH + 16, name, "start"))
        for stack in group:
            marks += _stack(x, stack, most or 1)
            x += COLUMN + GAP
        x += BETWEEN
    width, base = max(x, float(LEFT)), TOP + HIGH
    axis = f'<line class="axis" x1="{LEFT}" y1="{base}" x2="{width:g}" y2="{base}"/>'
    fillings = [
        f'<pattern id="filling-{name}" class="filling" width="8" height="8" '
        f'patternUnits="userSpaceOnUse">{lines}</pattern>'
        for name, lines in FILLINGS.items()
    ]
    defined = f"<defs>{''.join(fillings)}</defs>"
    return _drawing(title, width, base + FOOT, [defined, *_scale(most or 1, width), *marks, axis])


def mark(part: str, words: str = "") -> str:
    """Draw the mark of one part, read out as *words*; "" where they stand beside it."""
    role = f'role="img" aria-label="{escape(words)}"' if words else 'aria-hidden="true"'
    return (
        f'<svg class="part-mark" {role} width="20" height="20" '
        f'viewBox="0 0 20 20">{MARKS[part]}</svg>'
    )


def _stack(x: float, stack: Stack, most: int) -> list[str]:
    marks, y = [], float(TOP + HIGH)
    for part, count in stack:
        high = _share(count, most, HIGH)
        y -= high
        filling = f' fill="url(#filling-{part})"' if part in FILLINGS else ""
        marks.append(
            f'<rect class="part {escape(part)}"{filling} x="{x:g}" y="{y:g}" width="{COLUMN}" '
            f'height="{high:g}"/>'
        )
    return marks


def _scale(most: int, width: float) -> list[str]:
    """Draw the lines of nothing, half and all; half only where it is a whole number."""
    levels = [most] if most % 2 else [most // 2, most]
    marks = []
    for level in levels:
        y = TOP + HIGH - _share(level, most, HIGH)
        marks.append(f'<line class="level" x1="{LEFT}" y1="{y:g}" x2="{width:g}" y2="{y:g}"/>')
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
