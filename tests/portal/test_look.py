"""The look keeps its promises: contrast, weight, letters, and nothing from elsewhere."""

import gzip
import io
import re
from pathlib import Path

import polib
import pytest
from django.conf import settings
from django.contrib.staticfiles import finders
from django.contrib.staticfiles.storage import ManifestStaticFilesStorage
from django.template.loader import render_to_string
from django.test import RequestFactory
from fontTools.ttLib import TTFont
from PIL import Image, ImageChops, ImageDraw, ImageFont

from portal.context_processors import Place
from portal.translation.catalogues import catalogue_path
from tasks.numberwork.words.files import FOLDER

STATIC = Path(settings.BASE_DIR) / "portal" / "static"
TOKENS = (STATIC / "portal" / "tokens.css").read_text()
LETTERS = STATIC / "vendor" / "letters"
ARABIC = LETTERS.parent / "letters-arabic"
LIGHT = TOKENS[: TOKENS.index("@media")]
DARK_BY_CHOICE = re.search(r':root\[data-theme="dark"\] \{(.*?)\}', TOKENS, re.S).group(1)
DARK_BY_DEVICE = re.search(
    r"prefers-color-scheme: dark\) \{\s*:root:not.*?\{(.*?)\}", TOKENS, re.S
).group(1)


def colours(css: str) -> dict[str, str]:
    """Return every colour token of a block as #rrggbb."""
    return dict(re.findall(r"--([\w-]+): (#[0-9a-f]{6});", css))


def luminance(colour: str) -> float:
    """Return the relative luminance of a colour, 0 to 1 (WCAG 2.2, 'relative luminance')."""
    shares = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [s / 12.92 if s <= 0.04045 else ((s + 0.055) / 1.055) ** 2.4 for s in shares]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    """Return the contrast of two colours, 1 to 21 (WCAG 2.2, 'contrast ratio')."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


THEMES = {"light": colours(LIGHT), "dark": colours(DARK_BY_CHOICE)}
GROUNDS = ("paper", "slip", "wash", "wash-info", "wash-warn", "wash-caution", "wash-done")
READ = [
    *((words, ground) for words in ("ink", "ink-soft", "accent", "margin") for ground in GROUNDS),
    *(("on-ink", "ink"), ("on-accent", "accent"), ("on-pencil", "pencil"), ("slip", "margin")),
]
SEEN = [(line, ground) for line in ("rule", "margin", "accent") for ground in ("paper", "slip")]


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize(("words", "ground"), READ)
def test_words_can_be_read_on_every_ground(theme, words, ground):
    """Source: WCAG 2.2, success criterion 1.4.3, contrast of text at least 4.5 to 1."""
    assert contrast(THEMES[theme][words], THEMES[theme][ground]) >= 4.5


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize(("line", "ground"), SEEN)
def test_the_edge_of_a_field_can_be_seen(theme, line, ground):
    """Source: WCAG 2.2, success criterion 1.4.11, contrast of controls at least 3 to 1."""
    assert contrast(THEMES[theme][line], THEMES[theme][ground]) >= 3


def test_black_on_white_has_the_greatest_contrast_there_is():
    assert contrast("#000000", "#ffffff") == pytest.approx(21)


def test_dark_is_the_same_whether_chosen_or_asked_for_by_the_device():
    assert colours(DARK_BY_DEVICE) == colours(DARK_BY_CHOICE)
    assert colours(DARK_BY_CHOICE).keys() == colours(LIGHT).keys()


def test_no_colour_is_named_outside_the_tokens():
    sheets = [p for p in (STATIC / "portal").glob("*.css") if p.stem not in ("tokens", "print")]
    assert sheets
    assert [p.name for p in sheets if re.search(r"#[0-9a-fA-F]{3,8}\b", p.read_text())] == []


def page(base: str) -> str:
    """Render an empty page of one of the bases for somebody with three places."""
    places = [Place(word, "/", icon=icon) for word, icon in (("Today", "today"), ("Week", "week"))]
    return render_to_string(base, {"places": places}, RequestFactory().get("/"))


def fetched(html: str) -> set[Path]:
    """Return every static file that a page names, and the Latin letters its styles bring."""
    names = re.findall(rf'(?:href|src)="{settings.STATIC_URL}([^"#]+)', html)
    found = {Path(finders.find(name)) for name in names}
    return found | {LETTERS / f"letters-latin-{weight}.woff2" for weight in (400, 700)}


def wire(files: set[Path]) -> int:
    """Return the bytes of files as sent: letters as they are, all else by gzip."""
    return sum(
        len(data if path.suffix == ".woff2" else gzip.compress(data, 9))
        for path in files
        for data in [path.read_bytes()]
    )


def test_a_familys_first_page_leaves_most_of_its_weight_to_the_work():
    assert wire(fetched(page("base_family.html"))) <= 60_000


@pytest.mark.parametrize(
    ("base", "most"), [("base_family.html", 10_000), ("base_staff.html", 30_000)]
)
def test_scripts_stay_light(base, most):
    extra = {STATIC / "portal/js/upload-progress.js", STATIC / "portal/js/poll-piece.js"}
    scripts = {path for path in fetched(page(base)) if path.suffix == ".js"}
    assert 0 < wire(scripts | extra) <= most


def test_a_family_may_resume_an_upload_within_the_weight_allowed():
    scripts = {path for path in fetched(page("base_family.html")) if path.suffix == ".js"}
    assert wire(scripts | {STATIC / "vendor/tus/tus.min.js"}) <= 60_000


@pytest.mark.parametrize("path", sorted((STATIC / "portal/js").glob("*.js")), ids=lambda p: p.name)
def test_a_script_is_about_one_thing(path):
    assert len(path.read_text().splitlines()) < 100


def test_every_file_that_a_style_names_is_there(tmp_path):
    """The storage used in earnest stops at a name it cannot find, as for a map not shipped."""
    storage = ManifestStaticFilesStorage(location=tmp_path)
    paths = {}
    for source in STATIC.rglob("*"):
        if source.is_file():
            name = str(source.relative_to(STATIC))
            (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
            (tmp_path / name).write_bytes(source.read_bytes())
            paths[name] = (storage, name)
    broken = [done for _, _, done in storage.post_process(paths) if isinstance(done, Exception)]
    assert not broken


def test_nothing_is_fetched_from_anywhere_else():
    files = [*STATIC.rglob("*.css"), *(STATIC / "portal/js").glob("*.js")]
    files += (STATIC.parent / "templates").rglob("*.html")
    called = re.compile(r"(?:src|href|url|import|fetch)\W{1,3}(?:https?:)?//")
    assert [str(path) for path in files if called.search(path.read_text())] == []


# Source: WCAG 2.2, 1.3.4 Orientation.
def test_no_sheet_asks_how_the_phone_is_held():
    sheets = [
        sheet
        for sheet in Path(settings.BASE_DIR).glob("*/**/static/**/*.css")
        if "vendor" not in sheet.parts
    ]
    assert len(sheets) > 15
    assert [sheet.name for sheet in sheets if "orientation" in sheet.read_text()] == []


def test_what_was_made_elsewhere_comes_with_its_licence():
    parts = [path for path in (STATIC / "vendor").iterdir() if path.is_dir()]
    table = (STATIC / "vendor/README.md").read_text()
    assert parts
    for part in parts:
        assert (part / "LICENCE").stat().st_size > 500
        assert f"`{part.name}/`" in table


def test_no_page_carries_script_or_style_of_its_own():
    inline = re.compile(r"<style|\sstyle=|\son[a-z]+=|<script(?![^>]*\ssrc=)")
    templates = sorted((STATIC.parent / "templates").rglob("*.html"))
    assert templates
    assert [str(path) for path in templates if inline.search(path.read_text())] == []


@pytest.mark.parametrize("status", [400, 403, 404, 500])
def test_a_page_for_a_fault_needs_nothing_to_be_shown(status):
    html = render_to_string(f"{status}.html")
    assert html.count("<h1") == 1
    assert 'href="/"' in html


def holes(path: Path, letter: str) -> list[float]:
    """Draw one letter large and give the height of each hole in it, as a share of the letter's."""
    font = TTFont(path)
    font.flavor = None
    plain = io.BytesIO()
    font.save(plain)
    plain.seek(0)
    canvas = Image.new("1", (130, 170), 1)
    ImageDraw.Draw(canvas).text((30, 10), letter, 0, ImageFont.truetype(plain, 100))
    height = tall(ImageChops.invert(canvas.convert("L")))
    ImageDraw.floodfill(canvas, (0, 0), 0)
    found = []
    while inside := canvas.getbbox():
        spot = next((x, inside[1]) for x in range(130) if canvas.getpixel((x, inside[1])))
        before = canvas.copy()
        ImageDraw.floodfill(canvas, spot, 0)
        hole = ImageChops.difference(before.convert("L"), canvas.convert("L"))
        found.append(tall(hole) / height)
    return [share for share in found if share > 0.05]


def tall(picture: Image.Image) -> int:
    """Return the height in pixels of what is white in a picture."""
    _, top, _, bottom = picture.getbbox()
    return bottom - top


CUTS = ["letters-latin-400.woff2", "letters-latin-700.woff2", "letters-400.ttf", "letters-700.ttf"]


@pytest.mark.parametrize("name", CUTS)
def test_the_four_is_open_as_children_are_taught_to_write_it(name):
    """Common practice in Reception, no source."""
    assert holes(LETTERS / name, "4") == []
    assert len(holes(LETTERS / name, "0")) == 1
    assert len(holes(LETTERS / name, "8")) == 2


@pytest.mark.parametrize("name", CUTS)
def test_the_letter_a_has_one_storey(name):
    """Its bowl is nearly as tall as the letter. Common practice in Reception, no source."""
    (bowl,) = holes(LETTERS / name, "a")
    assert bowl > 0.5


@pytest.mark.parametrize("path", sorted(LETTERS.glob("*.woff2")), ids=lambda p: p.name)
def test_letters_are_small_and_bear_no_reserved_name(path):
    names = " ".join(str(TTFont(path)["name"].getDebugName(n)) for n in (1, 3, 4, 6))
    assert path.stat().st_size <= 25_000
    assert "Andika" not in names
    assert "SIL" not in names


@pytest.mark.parametrize(
    "words",
    [
        "zażółć gęślą jaźń ĄĘ",
        "școală știință țară â î",
        "ŵyl tŷ ẁ",
        "Привіт їжак ґанок є",
        "8 ÷ 2 = □ × −",
    ],
)
def test_families_words_are_written_in_the_same_letters(words):
    known = {code for path in LETTERS.glob("*-400.woff2") for code in TTFont(path).getBestCmap()}
    assert {letter for letter in words if ord(letter) not in known} == set()


def test_every_letter_that_is_shipped_is_also_asked_for():
    """A letter outside its file's unicode-range would be drawn by another font."""
    for face in re.findall(r"@font-face \{(.*?)\}", TOKENS, re.S):
        path = LETTERS.parent / re.search(r'vendor/([\w./-]+)"', face).group(1)
        asked = set()
        for low, high in re.findall(r"U\+([0-9A-F]+)(?:-([0-9A-F]+))?", face):
            asked |= set(range(int(low, 16), int(high or low, 16) + 1))
        assert set(TTFont(path).getBestCmap()) - asked == set(), path.name


@pytest.mark.parametrize("path", sorted(ARABIC.glob("*.woff2")), ids=lambda p: p.name)
def test_arabic_and_urdu_have_all_their_letters_on_screen(path):
    """Source of the letters that Urdu adds to Arabic: Unicode CLDR 45, exemplars of ur."""
    known = TTFont(path).getBestCmap().keys() | TTFont(LETTERS / "letters-400.ttf").getBestCmap()
    said = "ٹپچڈڑژکگںھہۂۃیےۓ۔، ؟"
    for language in ("ar", "ur"):
        for entry in polib.pofile(str(catalogue_path(language))):
            said += entry.msgstr + "".join(entry.msgstr_plural.values())
        said += (FOLDER / f"{language}.json").read_text(encoding="utf-8")
    assert {letter for letter in said if ord(letter) not in known} == {"\n"}
    assert path.stat().st_size <= 25_000
