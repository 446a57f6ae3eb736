"""Cut the portal's letters from the upright Andika files."""

from __future__ import annotations

from pathlib import Path

from django.core.management.base import BaseCommand, CommandParser
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont

FAMILY = "Kitchen Letters"  # "Andika" and "SIL" are reserved names: a changed font takes its own
HOME = Path(__file__).resolve().parents[2] / "static" / "vendor" / "letters"
SIGNS = "−×÷□½¼¾→←↑↓✓≤≥≠…–—‘’“”„•€"
SETS = {
    "latin": [*range(0x20, 0x7F), *range(0xA0, 0x100), *map(ord, SIGNS)],
    "latin-ext": [*range(0x100, 0x250), *range(0x300, 0x32F), *range(0x1E00, 0x1F00)],
    "cyrillic": [*range(0x400, 0x460), 0x490, 0x491, 0x2116],
}
# Arabic and Urdu, on paper and on screens that lack them.
ARABIC_HOME = HOME.parent / "letters-arabic"
ARABIC = [*range(0x600, 0x700), 0x200C, 0x200D]
SPACES = [0x20, 0xA0]  # of the portal's own letters on a screen
ARABIC_FEATURES = ["ccmp", "isol", "init", "medi", "fina", "rlig", "calt", "liga", "locl"]
FEATURES = ["ccmp", "locl", "mark", "mkmk", "kern"]
WEIGHTS = {400: "Regular", 700: "Bold"}


class Command(BaseCommand):
    """Write the subsets for screens (WOFF2) and the whole for print (TTF)."""

    help = "Cut the portal's letters (open 4, own name) from upright Andika, and Arabic ones."

    def add_arguments(self, parser: CommandParser) -> None:
        """Take the source files: two for Latin and Cyrillic, two for Arabic, or all four."""
        parser.add_argument("latin", nargs="*", type=Path, metavar="REGULAR BOLD")
        parser.add_argument("--arabic", nargs=2, type=Path, metavar=("REGULAR", "BOLD"))

    def handle(self, *, latin: list[Path], arabic: list[Path] | None, **options: object) -> None:
        """Write every file of both weights and say how large each is."""
        for weight, source in zip(WEIGHTS, arabic or (), strict=False):
            for ending, more in (("ttf", SPACES), ("woff2", [])):
                target = ARABIC_HOME / f"letters-arabic-{weight}.{ending}"
                self._cut_arabic(source, [*ARABIC, *more], target)
        for weight, source in zip(WEIGHTS, latin, strict=False):
            style = WEIGHTS[weight]
            for name, characters in SETS.items():
                self._cut(source, style, characters, HOME / f"letters-{name}-{weight}.woff2")
            everything = [number for numbers in SETS.values() for number in numbers]
            self._cut(source, style, everything, HOME / f"letters-{weight}.ttf")

    def _cut_arabic(self, source: Path, characters: list[int], target: Path) -> None:
        """Keep the letters of Arabic and Urdu with the forms they join by."""
        font = TTFont(source, recalcTimestamp=False)
        wanted = Options()
        wanted.layout_features = [*ARABIC_FEATURES, "mark", "mkmk", "kern"]
        wanted.hinting = False
        wanted.name_IDs = [0, 1, 2, 3, 4, 5, 6, 13, 14]
        subsetter = Subsetter(wanted)
        subsetter.populate(unicodes=characters)
        subsetter.subset(font)
        font.flavor = "woff2" if target.suffix == ".woff2" else None
        font.save(target)
        self.stdout.write(f"{target.name} {target.stat().st_size} bytes")

    def _cut(self, source: Path, style: str, characters: list[int], target: Path) -> None:
        font = TTFont(source, recalcTimestamp=False)
        open_the_four(font)
        take_the_foot_off_the_one(font, style)
        draw_the_square(font, 200 if style == "Bold" else 150)
        rename(font, style)
        wanted = Options()
        wanted.layout_features = FEATURES
        wanted.hinting = False
        wanted.drop_tables += ["Silf", "Silt", "Gloc", "Glat", "Feat", "Sill"]
        wanted.name_IDs = [0, 1, 2, 3, 4, 5, 6, 13, 14]
        wanted.flavor = "woff2" if target.suffix == ".woff2" else None
        subsetter = Subsetter(wanted)
        subsetter.populate(unicodes=characters)
        subsetter.subset(font)
        font.flavor = wanted.flavor
        font.save(target)
        self.stdout.write(f"{target.name} {target.stat().st_size} bytes")


def open_the_four(font: TTFont) -> None:
    """Point the digit 4 at the font's own open form (feature cv04)."""
    features = font["GSUB"].table.FeatureList.FeatureRecord
    lookups = next(r.Feature.LookupListIndex for r in features if r.FeatureTag == "cv04")
    table = font["GSUB"].table.LookupList.Lookup[lookups[0]].SubTable[0]
    table = getattr(table, "ExtSubTable", table)
    for cmap in font["cmap"].tables:
        closed = cmap.cmap.get(ord("4"))
        if closed in table.alternates:  # subtables may share one mapping, changed already
            cmap.cmap[ord("4")] = table.alternates[closed][0]


# The digit 1 of each style with a flag and no foot, as the numerals in pictures are drawn.
ONES = {
    style: ((left, 0), (left, low), *flag, (right, high), (right, 0))
    for style, left, right, low, high, flag in (
        ("Regular", 535, 725, 1260, 1480, ((235, 1088), (210, 1268), (555, 1480))),
        ("Bold", 507, 782, 1170, 1460, ((227, 1018), (192, 1278), (507, 1460))),
    )
}


def take_the_foot_off_the_one(font: TTFont, style: str) -> None:
    """Draw the digit 1 as it stands in pictures of number: two shapes of it are one too many."""
    pen, name = TTGlyphPen(None), font.getBestCmap()[ord("1")]
    for number, corner in enumerate(ONES[style]):
        (pen.lineTo if number else pen.moveTo)(corner)
    pen.closePath()
    font["glyf"][name] = pen.glyph()
    font["hmtx"][name] = (font["hmtx"][name][0], min(x for x, _ in ONES[style]))


def draw_the_square(font: TTFont, stroke: int) -> None:
    """Add the empty square of "8 ÷ 2 = □", which the font lacks; stroke in font units."""
    pen = TTGlyphPen(None)
    low, left, size = -40, 120, 1540
    for inset, turn in ((0, 1), (stroke, -1)):
        near, far = inset, size - inset
        corners = [(near, near), (near, far), (far, far), (far, near)][::turn]
        for number, (x, y) in enumerate(corners):
            (pen.lineTo if number else pen.moveTo)((left + x, low + y))
        pen.closePath()
    name = "emptySquare"
    font.setGlyphOrder([*font.getGlyphOrder(), name])
    font["glyf"][name] = pen.glyph()
    font["hmtx"][name] = (size + 2 * left, left)
    for cmap in font["cmap"].tables:
        if cmap.isUnicode():
            cmap.cmap[ord("□")] = name


def rename(font: TTFont, style: str) -> None:
    """Give the font its own name in every record that a reader is shown."""
    names = font["name"]
    joined = FAMILY.replace(" ", "")
    own = {1: FAMILY, 2: style, 3: f"{FAMILY} {style}", 4: f"{FAMILY} {style}"}
    for number, text in {**own, 5: "Version 1.0", 6: f"{joined}-{style}"}.items():
        for platform, encoding, language in ((3, 1, 0x409), (1, 0, 0)):
            names.setName(text, number, platform, encoding, language)
    names.names = [record for record in names.names if record.nameID not in (7, 16, 17, 25)]
