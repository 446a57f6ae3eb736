"""Draws the house from its imports: .venv/bin/python -m tests.house_picture writes .tour/house.svg.

An app is a sheet, a package a box, and an arrow leads from who uses to what is used. An arrow is
left out where others lead there as well. What lies at an app's root knows its packages, and is
left out too.
"""

from collections import Counter
from collections.abc import Iterable

from tests.house import (
    BELOW,
    PURE,
    ROOT,
    Uses,
    imports_of,
    is_in,
    one_way,
    packages_of,
    reached_from,
    sources,
    uses_in,
)

PICTURE = ROOT / ".tour" / "house.svg"
# The portal's own, of tokens.css.
PAPER, SHEET, INK, RED = "#faf7ee", "#fff", "#1d2740", "#9c3a2b"
WIDE, EDGE, GUTTER = 860, 20, 130
BOX_WIDE, BOX_HIGH, ROW, PAD = 128, 30, 68, 20
BETWEEN = 34  # sheets
Place = tuple[float, float]  # the middle of a box's upper side
Places = dict[str, Place]


def drawn() -> str:
    """Return the picture as it is by the imports of now."""
    apps = list(reversed(BELOW))
    parts: list[str] = []
    tops: dict[str, tuple[float, float]] = {}
    top = EDGE
    for app in apps:
        sheet, high = sheet_of(app, top)
        parts += sheet
        tops[app] = top, top + high
        top += high + BETWEEN
    for one, other in sorted(fewest(one_way(uses_between(apps))[0])):
        parts.append(line(f"M{EDGE + GUTTER / 2:g} {tops[one][1]:g}V{tops[other][0]:g}"))
    return "\n".join([*head(top - BETWEEN + EDGE), *parts, "</svg>", ""])


def head(high: float) -> list[str]:
    """Return what comes before the sheets: the size, the heads of arrows, the table."""
    heads = [
        f'<marker id="{name}" viewBox="0 0 8 8" refX="8" refY="4" markerWidth="8" '
        f'markerHeight="8" orient="auto-start-reverse"><path d="M0 0L8 4L0 8z" fill="{colour}"/>'
        "</marker>"
        for name, colour in (("ink", INK), ("red", RED))
    ]
    return [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDE} {high:g}" '
        f'font-family="system-ui, sans-serif" font-size="14" fill="{INK}">',
        "<title>The apps, their packages, and which uses which</title>",
        f"<defs>{''.join(heads)}</defs>",
        f'<rect width="{WIDE}" height="{high:g}" fill="{PAPER}"/>',
    ]


def sheet_of(app: str, top: float) -> tuple[list[str], float]:
    """Draw *app* from *top* down; give its parts and how high it is."""
    along, against = one_way(uses_in(app))
    uses = fewest(along)
    rows = rows_of(packages_of(app), uses)
    high = 2 * PAD + BOX_HIGH + ROW * (len(rows) - 1)
    places = placed(rows, uses, top + PAD)
    parts = [
        f'<rect x="{EDGE}" y="{top:g}" width="{WIDE - 2 * EDGE}" height="{high:g}" '
        f'fill="{SHEET}" stroke="{INK}"/>',
        f'<text x="{EDGE + 16}" y="{top + PAD + 14:g}" font-weight="700">{app}</text>',
    ]
    parts += [arrow(places[one], places[other]) for one, other in sorted(uses)]
    parts += [arrow(places[one], places[other], against=True) for one, other in sorted(against)]
    parts += [box(name, places[name], f"{app}/{name}" in PURE) for name in sorted(places)]
    return parts, high


def rows_of(packages: Iterable[str], uses: set[Uses]) -> list[list[str]]:
    """Put *packages* in rows, each above all that it uses; the upper row comes first."""
    floor: dict[str, int] = {}

    def floor_of(package: str) -> int:
        if package not in floor:
            below = [floor_of(other) for one, other in uses if one == package]
            floor[package] = max(below, default=-1) + 1
        return floor[package]

    by_name = sorted(packages)
    levels = sorted({floor_of(package) for package in by_name}, reverse=True)
    return [[package for package in by_name if floor[package] == level] for level in levels]


def placed(rows: list[list[str]], uses: set[Uses], top: float) -> Places:
    """Place each box, below the middle of those that use it as far as its row lets it."""
    left, right = EDGE + GUTTER, WIDE - EDGE
    places: Places = {}
    for number, row in enumerate(rows):
        wanted = {package: middle_of_users(package, uses, places) for package in row}
        step = (right - left) / len(row)
        for at, package in enumerate(sorted(row, key=lambda each: (wanted[each], each))):
            places[package] = left + step * (at + 0.5), top + ROW * number
    return places


def middle_of_users(package: str, uses: set[Uses], places: Places) -> float:
    """Return the middle of the boxes that use *package*; the right edge where none does."""
    over = [places[one][0] for one, other in sorted(uses) if other == package]
    return sum(over) / len(over) if over else float(WIDE)


def fewest(uses: set[Uses]) -> set[Uses]:
    """Return *uses* without those that lead where others lead as well; they go one way."""
    needless = {
        (one, far)
        for one, near in uses
        for far in reached_from(near, uses) - {near}
        if (one, far) in uses
    }
    return uses - needless


def uses_between(apps: Iterable[str]) -> Counter[Uses]:
    """Count what *apps* import from each other, but for the two files that know all."""
    know_all = {ROOT / "portal/urls.py", ROOT / "portal/settings.py"}
    return Counter(
        (app, other)
        for app in apps
        for path in sources(app)
        if path not in know_all
        for name in imports_of(path)
        for other in BELOW
        if other != app and is_in(name, other)
    )


def arrow(start: Place, end: Place, against: bool = False) -> str:
    """Draw the arrow between two boxes; one *against* the way goes up, in the red of the margin."""
    (x, y), (end_x, end_y) = start, end
    if against:
        return line(f"M{x + 14:g} {y:g}L{end_x + 14:g} {end_y + BOX_HIGH:g}", "red", RED)
    if end_y - y > ROW and abs(end_x - x) > BOX_WIDE / 2:
        side = BOX_WIDE / 2 if end_x > x else -BOX_WIDE / 2  # round the boxes in between
        return line(f"M{x + side:g} {y + BOX_HIGH / 2:g}H{end_x:g}V{end_y:g}")
    return line(f"M{x:g} {y + BOX_HIGH:g}L{end_x:g} {end_y:g}")


def line(points: str, head: str = "ink", colour: str = INK) -> str:
    """Draw a line through *points* that ends in the *head* of an arrow."""
    return f'<path d="{points}" stroke="{colour}" fill="none" marker-end="url(#{head})"/>'


def box(name: str, place: Place, pure: bool) -> str:
    """Draw the box of a package; one that is pure has its lower edge drawn twice."""
    x, y = place
    left = x - BOX_WIDE / 2
    drawing = (
        f'<rect x="{left:g}" y="{y:g}" width="{BOX_WIDE}" height="{BOX_HIGH}" fill="{PAPER}" '
        f'stroke="{INK}"/><text x="{x:g}" y="{y + 20:g}" text-anchor="middle">{name}</text>'
    )
    if pure:
        drawing += f'<path d="M{left:g} {y + BOX_HIGH - 3:g}h{BOX_WIDE}" stroke="{INK}"/>'
    return drawing


if __name__ == "__main__":
    PICTURE.write_text(drawn(), encoding="utf-8")
